"""A group is set up in chat, whatever the instructor taps and types on the way."""

import pytest

from bot.buttons.setup import Act, DraftButton, InviteButton, Stage, Step, TrialButton
from bot.planfile import read_plan_file
from demo_script.stand_in import Message
from tests.journeys.evening import Evening, buttons, data_of, sent_to
from tests.journeys.founder import Founder, about, drafted
from tests.journeys.plans import plan_text

MOST_TAPS, MOST_TYPED = 22, 8
"""For a typical group of two days and five movements: what five minutes on a phone allow."""
LONG = "Strength and mobility for absolutely everybody at Harbour Hall 64"


@pytest.fixture
async def founder(stage: Evening) -> Founder:
    """The bot is claimed, and there is no group."""
    await stage.claim()
    return Founder(evening=stage)


def labels(message: Message) -> list[str]:
    """What stands on the buttons."""
    return [each.label for row in message.buttons for each in row]


def stored_plan(founder: Founder) -> str:
    """The newest plan file in the database."""
    ((document,),) = founder.evening.rows("SELECT document FROM plan ORDER BY made_at DESC LIMIT 1")
    return str(document)


async def test_a_typical_group_takes_few_taps_from_nothing_to_its_link(founder: Founder) -> None:
    await founder.typical_group()
    assert "Shall I make it?" in founder.page.text
    assert "2 × 30 s, on toes" in founder.page.text
    await founder.tap(Act.MAKE)
    assert (founder.taps, founder.typed) <= (MOST_TAPS, MOST_TYPED)
    made = founder.person.messages[-2]
    assert "Harbour Hall strength is ready" in made.text
    assert "https://t.me/" in made.text
    plan = read_plan_file(stored_plan(founder), "stored")
    assert (plan.timezone, plan.minutes, plan.plan.target) == ("Europe/Lisbon", 50, 7)
    assert plan.rrule == "FREQ=WEEKLY;BYDAY=TU,TH"
    assert str(plan.starts) == "2026-09-01 18:30:00", "the first class is the next one"
    squat = plan.plan.line("Goblet squat")
    assert squat is not None
    assert (squat.dose.sets, squat.dose.amount, squat.dose.load) == (3, 8, 12)
    assert founder.evening.rows("SELECT * FROM draft") == []
    assert {"newgroup", "plan", "invite"} <= set(founder.evening.api.menu(founder.person))


async def test_the_picture_of_the_link_comes_as_a_document_to_print(founder: Founder) -> None:
    await founder.typical_group()
    await founder.tap(Act.MAKE)
    picture = founder.person.last_message
    assert picture.attachment is not None
    assert picture.attachment.name == "harbour-hall-strength-qr.png"
    assert picture.document is not None
    assert picture.document.startswith(b"\x89PNG")
    assert not picture.protected, "it is to be passed on"


async def test_a_group_that_was_set_up_in_chat_works_like_any_other(founder: Founder) -> None:
    await founder.typical_group()
    await founder.tap(Act.MAKE)
    stage = founder.evening
    stage.link = next(
        word for word in founder.person.messages[-2].text.split() if word.startswith("https://")
    )
    (ana,) = await stage.join("Ana")
    assert "Forearm plank" in (await stage.say(ana, "/variant")).text


async def test_everything_can_be_typed(founder: Founder) -> None:
    await founder.says("/newgroup")
    for text in ("Morning", "Mon, Wed-Fri", "6:15 am", "1 h 15", "São Paulo", "wall sit", "3x45"):
        await founder.says(text)
    await founder.says("calf raise")
    await founder.go(Stage.LINES)
    await founder.go(Stage.TARGET)
    said = await founder.says("6.5")
    assert "Mon, Wed, Thu and Fri, 06:15 (Sao Paulo), 75 minutes" in said.text
    assert "Effort aimed at: 6.5" in said.text
    assert "Wall sit: 3 × 45 s" in said.text
    assert "Calf raise" in said.text


@pytest.mark.parametrize(
    ("upto", "text", "expected"),
    [
        (0, "x" * 65, "a name of 1 to 64 letters"),
        (0, "\u202e", "a name of 1 to 64 letters"),
        (1, "Feb 30", "days of the week, such as: Mon and Thu"),
        (2, "half past", "a time of day, such as 18:15"),
        (3, "4", "5 to 600 minutes"),
        (3, "for ever", "5 to 600 minutes"),
        (4, "Atlantis", "no city or country called “Atlantis”"),
        (5, "quidditch", "nothing that fits “quidditch”"),
        (6, "9999", "an amount from 10 to 90"),
        (6, "<b>", "an amount from 10 to 90"),
    ],
)
async def test_nonsense_is_answered_with_what_was_expected(
    founder: Founder, upto: int, text: str, expected: str
) -> None:
    await founder.says("/newgroup")
    for right in ("Group", "Thu", "18:30", "50", "Lisbon", "forearm plank")[:upto]:
        await founder.says(right)
    (before,) = founder.evening.rows("SELECT document, step FROM draft")
    said = await founder.says(text)
    assert expected in said.text
    assert "othing was stored" in said.text or "nothing was" in said.text
    assert drafted(said), "the same page follows, so that they can go on"
    assert founder.evening.rows("SELECT document, step FROM draft") == [before]


async def test_a_name_of_64_letters_stands_everywhere(founder: Founder) -> None:
    name = LONG[:64]
    await founder.says("/newgroup")
    for text in (name, "Thu", "18:30", "50", "Lisbon", "wall sit"):
        await founder.says(text)
    await founder.go(Stage.LINES)
    await founder.go(Stage.TARGET)
    await founder.tap(Act.TARGET, "-:7")
    await founder.tap(Act.MAKE)
    assert founder.evening.rows("SELECT name FROM training_group") == [(name,)]


async def test_two_groups_of_one_name_are_not_made(founder: Founder) -> None:
    await founder.evening.upload(plan_text())
    await founder.says("/newgroup")
    said = await founder.says("harbour hall STRENGTH")
    assert "take another name" in said.text
    assert "name =" not in str(founder.evening.rows("SELECT document FROM draft"))


async def test_the_place_of_another_group_is_offered_first(founder: Founder) -> None:
    await founder.evening.upload(plan_text(timezone="America/Halifax"))
    await founder.says("/newgroup")
    for text in ("Evening", "Thu", "18:30", "50"):
        await founder.says(text)
    assert labels(founder.page)[0].startswith("Halifax, 09:0")


async def test_a_place_is_found_by_its_clock(founder: Founder) -> None:
    await founder.says("/newgroup")
    for text in ("Evening", "Thu", "18:30", "50", "5:30 pm"):
        await founder.says(text)
    assert any(each.startswith("Kolkata, 17:3") for each in labels(founder.page))


async def test_a_movement_can_be_put_elsewhere_and_taken_out(founder: Founder) -> None:
    await founder.typical_group()
    await founder.go(Stage.LINES)
    bug = about("Dead bug")
    await founder.go(Stage.LINE, bug)
    await founder.tap(Act.PLACE, f"{bug}:3")
    await founder.go(Stage.DROP, bug)
    await founder.go(Stage.LINE, bug)
    await founder.go(Stage.DROP, bug)
    await founder.tap(Act.DROP, bug)
    assert labels(founder.page)[3].startswith("4. Side plank")
    assert not any("Dead bug" in each for each in labels(founder.page))


async def test_a_class_holds_twelve_movements(founder: Founder) -> None:
    await founder.says("/newgroup")
    for text in ("Evening", "Thu", "18:30", "50", "Lisbon"):
        await founder.says(text)
    taken = [each for each in buttons(founder.page) if getattr(each, "act", None) is Act.TAKE]
    assert len(taken) == 12
    for each in taken:
        await founder.press_old(each.write())
    said = await founder.says("wall sit")
    assert "12 movements at most" in said.text
    ((document,),) = founder.evening.rows("SELECT document FROM draft")
    assert str(document).count("[[movement]]") == 12


# --- coming back, and old buttons -------------------------------------------------------------


async def test_a_set_up_is_taken_up_again_where_it_was_left(founder: Founder) -> None:
    await founder.says("/newgroup")
    await founder.says("Evening")
    await founder.says("Thu")
    said = await founder.says("/cancel")
    assert "kept what you have said so far" in said.text
    said = await founder.says("18:30")
    assert "no open question" in said.text, "what is typed now is for something else"
    said = await founder.says("/newgroup")
    assert "At what time" in said.text
    assert founder.evening.rows("SELECT count(*) FROM draft") == [(1,)]


async def test_a_question_that_comes_in_between_gets_what_is_typed(founder: Founder) -> None:
    await founder.says("/newgroup")
    await founder.says("/pause")
    await founder.says("20 December")
    assert founder.evening.rows("SELECT count(*) FROM pause") == [(1,)]
    assert "How many minutes" not in founder.person.last_message.text
    await founder.says("/newgroup")
    said = await founder.says("Evening")
    assert "On which days" in said.text


async def test_throwing_a_draft_away_takes_two_taps(founder: Founder) -> None:
    await founder.says("/newgroup")
    await founder.says("Evening")
    await founder.go(Stage.REST)
    discard = data_of(founder.page, DraftButton, act=Act.DISCARD)
    await founder.go(Stage.DAYS)
    await founder.press_old(discard)
    assert founder.evening.rows("SELECT count(*) FROM draft") == [(1,)], "an old button asks first"
    await founder.press(discard)
    assert founder.evening.rows("SELECT count(*) FROM draft") == [(0,)]
    assert "The draft is gone" in founder.person.last_message.text


async def test_making_a_group_twice_makes_it_once(founder: Founder) -> None:
    await founder.typical_group()
    make = data_of(founder.page, DraftButton, act=Act.MAKE)
    await founder.press(make)
    message = founder.person.messages[-2]
    press = founder.person.press_raw(message.message_id, make)
    await founder.evening.settle()
    assert press.answer is not None
    assert "no longer in use" in press.answer.text
    assert founder.evening.rows("SELECT count(*) FROM training_group") == [(1,)]
    assert sum("is ready" in each.text for each in founder.person.messages) == 1


async def test_a_button_to_make_a_group_that_is_no_longer_shown_shows_it_first(
    founder: Founder,
) -> None:
    await founder.typical_group()
    make = data_of(founder.page, DraftButton, act=Act.MAKE)
    await founder.go(Stage.MINUTES)
    await founder.says("75")
    await founder.go(Stage.CLOCK)
    await founder.press_old(make)
    assert founder.evening.rows("SELECT * FROM training_group") == []
    assert "75 minutes" in founder.page.text


async def test_double_taps_and_buttons_of_what_is_gone_do_no_harm(founder: Founder) -> None:
    await founder.typical_group()
    await founder.go(Stage.LINES)
    bug = about("Dead bug")
    await founder.go(Stage.LINE, bug)
    page, drop = founder.page, DraftButton(draft_id(founder), Act.DROP, bug).write()
    more = data_of(page, DraftButton, act=Act.SETS, value=f"{bug}:3")
    for _ in range(2):
        await founder.evening.press(founder.person, more, page)
    assert "3 × 10 reps" in founder.page.text
    founder.person.press_raw(page.message_id, drop)
    await founder.evening.settle()
    since = founder.evening.dump()
    again = founder.person.press_raw(page.message_id, more)
    await founder.evening.settle()
    assert again.answer is not None
    assert "no longer in use" in again.answer.text
    assert founder.evening.dump()["draft"][0][5] == since["draft"][0][5]


def draft_id(founder: Founder) -> str:
    """The id of the one draft."""
    ((found,),) = founder.evening.rows("SELECT id FROM draft")
    return str(found)


@pytest.mark.parametrize(
    ("act", "value"),
    [
        (Act.MINUTES, "4"),
        (Act.ZONE, "Europe/Atlantis"),
        (Act.CLOCK, "2960"),
        (Act.TAKE, "abcdefgh2345"),
        (Act.SETS, f"{about('Dead bug')}:99"),
        (Act.AMOUNT, f"{about('Dead bug')}:9999"),
        (Act.LOAD, f"{about('Dead bug')}:20"),
        (Act.VARIATION, f"{about('Dead bug')}:9"),
        (Act.TARGET, "-:9.5"),
        (Act.TARGET, "abcdefgh2345:7"),
        (Act.ONCE, ""),
        (Act.ALWAYS, ""),
        (Act.SHOW, str(Step(Stage.LINE, "abcdefgh2345"))),
        (Act.SHOW, str(Step(Stage.LIBRARY, "9"))),
    ],
)
async def test_what_no_button_carries_changes_nothing_that_was_said(
    founder: Founder, act: Act, value: str
) -> None:
    await founder.typical_group()
    before = founder.evening.rows("SELECT document FROM draft")
    press = founder.person.press_raw(
        founder.page.message_id, DraftButton(draft_id(founder), act, value).write()
    )
    await founder.evening.settle()
    assert press.answer is not None
    assert founder.evening.rows("SELECT document FROM draft") == before


async def test_nobody_else_gets_into_a_set_up(evening: Evening) -> None:
    founder, ana = Founder(evening=evening), evening.members["Ana"]
    await founder.says("/newgroup")
    stranger = evening.api.person("Stranger")
    shown = [each.write() for each in buttons(founder.page)]
    for person in (ana, stranger):
        for data in shown:
            before = evening.dump()
            press = person.press_raw(1, data)
            await evening.settle()
            assert press.answer is not None
            assert "no longer in use" in press.answer.text
            assert evening.dump() == before
    assert "Only whoever claimed this bot" in (await evening.say(ana, "/newgroup")).text
    assert "invited to a class" in (await evening.say(stranger, "/newgroup")).text
    assert len(evening.rows("SELECT * FROM draft")) == 1


# --- the link, and the trial -------------------------------------------------------------------


async def test_a_new_link_is_made_once_after_a_question(evening: Evening) -> None:
    ines = evening.instructor
    asked = await evening.say(ines, "/invite")
    assert "stops working" in asked.text
    data = data_of(asked, InviteButton)
    await evening.press(ines, data, asked)
    again = ines.press_raw(asked.message_id, data)
    await evening.settle()
    assert again.answer is not None
    assert "no longer in use" in again.answer.text
    assert evening.rows("SELECT count(*) FROM invite WHERE revoked_at IS NULL") == [(1,)]
    stranger = evening.api.person("Stranger")
    forged = stranger.press_raw(1, data)
    await evening.settle()
    assert forged.answer is not None
    assert "no longer in use" in forged.answer.text


async def test_a_trial_looks_as_for_members_and_stores_nothing(evening: Evening) -> None:
    ines = evening.instructor
    (made,) = [each for each in ines.messages if "is ready" in each.text]
    before = evening.dump()
    await evening.press(ines, data_of(made, TrialButton), made)
    shown = made
    for answer in (("c", "8"), ("e0", "unfinished"), ("d0", "15"), ("h", "pain"), ("w", "general")):
        question = shown_now(evening, shown)
        assert "A trial" in question.text
        wanted = answer[0], answer[1]
        data = next(
            each.write()
            for each in buttons(question)
            if isinstance(each, TrialButton)
            and each.said
            and (str(each.said[-1][0]), each.said[-1][1]) == wanted
        )
        await evening.press(ines, data, question)
    assert "Nothing of this trial was stored" in shown_now(evening, shown).text
    assert evening.dump() == before
    await evening.class_is_over()
    real = evening.members["Ana"].last_message
    assert "How hard was the whole class for you?" in real.text


def shown_now(evening: Evening, message: Message) -> Message:
    """The message as it stands in the chat now."""
    return next(
        each for each in evening.instructor.messages if each.message_id == message.message_id
    )


async def test_strangers_and_members_get_no_trial(evening: Evening) -> None:
    (made,) = [each for each in evening.instructor.messages if "is ready" in each.text]
    data = data_of(made, TrialButton)
    for person in (evening.members["Ana"], evening.api.person("Stranger")):
        since = len(evening.api.log)
        press = person.press_raw(1, data)
        await evening.settle()
        assert press.answer is not None
        assert "doesn't work for you" in press.answer.text
        assert sent_to(evening.api, person, since) == []
