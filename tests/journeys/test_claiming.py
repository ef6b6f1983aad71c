"""Claiming the bot: once, by whoever has the code from the console."""

from datetime import timedelta

from demo_script.theatre import OWNER_CODE
from tests.journeys.evening import Evening


async def test_the_owner_code_makes_its_sender_the_first_instructor(stage: Evening) -> None:
    await stage.claim()
    assert "This bot is yours now" in stage.instructor.last_message.text
    assert stage.rows("SELECT account FROM person WHERE owner_since IS NOT NULL") == [
        (stage.instructor.person_id,)
    ]
    assert {"digest", "invite", "variant"} <= set(stage.api.menu(stage.instructor))


async def test_a_second_claim_is_answered_like_any_wrong_code(stage: Evening) -> None:
    await stage.claim()
    late, wrong = stage.api.person("Late"), stage.api.person("Wrong")
    late.press_start(OWNER_CODE)
    wrong.press_start("no-such-code-at-all")
    await stage.settle()
    assert late.last_message.text == wrong.last_message.text
    assert stage.mentions(late) == ["wrong_code"]
    assert "digest" not in stage.api.menu(late)


async def test_after_five_wrong_codes_even_the_right_one_is_refused_for_an_hour(
    stage: Evening,
) -> None:
    person = stage.instructor
    for number in range(5):
        await stage.say(person, f"/start guess-{number}")
    assert "doesn't open anything" in (await stage.say(person, f"/start {OWNER_CODE}")).text
    assert stage.rows("SELECT * FROM person") == []
    await stage.leap(stage.now + timedelta(minutes=61))
    assert "This bot is yours now" in (await stage.say(person, f"/start {OWNER_CODE}")).text


async def test_codes_that_no_link_can_carry_are_wrong_codes(stage: Evening) -> None:
    person = stage.api.person("Odd")
    for code in ("x" * 65, "\u202egnp.exe", "'; DROP TABLE person; --", "<b>code</b>"):
        assert "doesn't open anything" in (await stage.say(person, f"/start {code}")).text
    assert stage.rows("SELECT count(*) FROM wrong_code") == [(4,)]


async def test_start_without_a_code_tells_a_stranger_what_is_needed(stage: Evening) -> None:
    stranger = stage.api.person("Nobody")
    stranger.press_start()
    await stage.settle()
    assert "link that your instructor gave you" in stranger.last_message.text
    assert stage.mentions(stranger) == []
