"""Joining by link: terms first, then a yes or a no, and the same answer to every dead link."""

from datetime import timedelta

import pytest

from bot.buttons import InviteButton, JoinButton
from demo_script.stand_in import Person
from tests.journeys.evening import Evening, agree, buttons, data_of, sent_to


async def reading(stage: Evening, name: str) -> Person:
    """Someone who has followed the link and sees the terms."""
    person = stage.api.person(name)
    person.open_link(stage.link)
    await stage.settle()
    return person


async def test_the_terms_say_what_is_stored_and_what_to_beware_of(stage: Evening) -> None:
    await stage.found()
    ana = await reading(stage, "Ana")
    terms = ana.last_message.text
    for said in ("Harbour Hall strength", "What is stored", "no medical device", "chest pain"):
        assert said in terms
    assert stage.mentions(ana) == ["joining"]


async def test_whoever_agrees_is_a_member_and_the_instructor_hears_of_it(stage: Evening) -> None:
    await stage.found()
    (ana,) = await stage.join("Ana")
    assert "You have joined Harbour Hall strength" in ana.last_message.text
    assert "18:30" in ana.last_message.text
    assert not [each for each in buttons(ana.last_message) if isinstance(each, JoinButton)]
    assert "Ana has joined" in stage.instructor.last_message.text
    assert "1 member" in stage.instructor.last_message.text


async def test_whoever_declines_leaves_nothing_behind(stage: Evening) -> None:
    await stage.found()
    ana = await reading(stage, "Ana")
    await stage.press(ana, data_of(ana.last_message, JoinButton, yes=False))
    assert "Nothing about you is stored" in ana.last_message.text
    assert stage.mentions(ana) == []
    assert "Ana" not in stage.instructor.last_message.text


async def test_whoever_declined_may_still_join_later(stage: Evening) -> None:
    await stage.found()
    ana = await reading(stage, "Ana")
    await stage.press(ana, data_of(ana.last_message, JoinButton, yes=False))
    ana.open_link(stage.link)
    await stage.settle()
    agree(ana)
    await stage.settle()
    assert "You have joined" in ana.last_message.text


async def test_reading_the_terms_for_a_day_and_more_is_forgotten(stage: Evening) -> None:
    await stage.found()
    ana = await reading(stage, "Ana")
    await stage.leap(stage.now + timedelta(days=2, hours=1))
    assert stage.mentions(ana) == []


@pytest.mark.parametrize(
    "spoil",
    [
        "UPDATE invite SET expires_at = '2026-08-30T00:00:00Z'",
        "UPDATE invite SET uses_left = 0",
        "UPDATE invite SET revoked_at = '2026-08-30T00:00:00Z'",
    ],
    ids=["expired", "used up", "revoked"],
)
async def test_every_dead_link_gets_the_answer_of_a_wrong_one(stage: Evening, spoil: str) -> None:
    await stage.found()
    reader = await reading(stage, "Reader")
    async with stage.theatre.house.database.transaction() as tx:
        await tx.execute(spoil)
    late = await reading(stage, "Late")
    agree(reader)
    wrong = stage.api.person("Wrong")
    wrong.press_start("no-such-code-at-all")
    await stage.settle()
    assert late.last_message.text == wrong.last_message.text == reader.last_message.text
    assert stage.rows("SELECT * FROM membership") == []
    assert stage.mentions(reader) == []


async def test_a_new_link_closes_the_old_one(stage: Evening) -> None:
    await stage.found()
    old = stage.link
    asked = await stage.say(stage.instructor, "/invite")
    assert "stops working" in asked.text
    early = await reading(stage, "Early")
    assert "You are invited" in early.last_message.text, "nothing was closed by asking"
    await stage.press(stage.instructor, data_of(asked, InviteButton), asked)
    said = next(each for each in stage.instructor.messages if "lets people join" in each.text)
    assert old not in said.text
    late = await reading(stage, "Late")
    assert "doesn't open anything" in late.last_message.text


async def test_a_member_who_follows_the_link_again_is_told_so(evening: Evening) -> None:
    ana = evening.members["Ana"]
    before = evening.dump()
    ana.open_link(evening.link)
    await evening.settle()
    assert "already in Harbour Hall strength" in ana.last_message.text
    assert evening.dump() == before


async def test_agreeing_twice_joins_once(stage: Evening) -> None:
    await stage.found()
    ana = await reading(stage, "Ana")
    first, second = agree(ana), agree(ana)
    await stage.settle()
    assert first.answer is not None
    assert second.answer is not None
    assert stage.rows("SELECT uses_left FROM invite") == [(99,)]
    assert sum("Ana has joined" in text for text in sent_to(stage.api, stage.instructor)) == 1


async def test_terms_work_only_for_whoever_reads_them(stage: Evening) -> None:
    await stage.found()
    ana, eve = await reading(stage, "Ana"), stage.api.person("Eve")
    eve.press_start()
    await stage.settle()
    data = data_of(ana.last_message, JoinButton, yes=True)
    press = eve.press_raw(eve.last_message.message_id, data)
    await stage.settle()
    assert press.answer is not None
    assert "no longer in use" in press.answer.text
    assert stage.mentions(eve) == []


async def test_the_code_itself_is_not_in_the_database(stage: Evening) -> None:
    await stage.found()
    code = stage.link.partition("start=")[2]
    assert code not in repr(stage.dump())
