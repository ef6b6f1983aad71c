"""While the class is on, two taps say that something is too hard or too easy today."""

from datetime import timedelta

import pytest

from bot.buttons import VerdictButton
from core.questions import SKIPPED
from core.verdict import Verdict
from demo_script.stand_in import Message, Person
from tests.journeys.evening import ENDS, PROMPTED, STARTS, Evening, buttons, data_of

HALFWAY = STARTS + timedelta(minutes=25)
BEFORE = STARTS - timedelta(minutes=30)


@pytest.fixture
async def ana(evening: Evening) -> Person:
    """A member in the middle of her first class, whose digest went out before."""
    await evening.leap(BEFORE)
    await evening.leap(HALFWAY)
    return evening.members["Ana"]


def verdicts(message: Message) -> list[VerdictButton]:
    """The buttons of the kind under a message."""
    return [each for each in buttons(message) if isinstance(each, VerdictButton)]


async def say_it(evening: Evening, person: Person, verdict: Verdict, place: int) -> None:
    """From /variant to the movement."""
    await evening.say(person, "/variant")
    await evening.press(person, data_of(person.last_message, VerdictButton, verdict=verdict))
    await evening.press(
        person, data_of(person.last_message, VerdictButton, verdict=verdict, place=place)
    )


async def test_before_class_there_is_nothing_to_say_yet(evening: Evening) -> None:
    await evening.leap(BEFORE)
    message = await evening.say(evening.members["Ana"], "/variant")
    assert verdicts(message) == []


async def test_what_is_too_hard_is_kept_with_the_dose_that_was_told(
    evening: Evening, ana: Person
) -> None:
    await say_it(evening, ana, Verdict.HARD, 1)
    assert evening.rows("SELECT movement, word FROM verdict") == [("Push-up", "hard")]
    assert {each.verdict for each in verdicts(ana.last_message)} == {*Verdict, None}


async def test_the_other_verdict_replaces_the_first(evening: Evening, ana: Person) -> None:
    await say_it(evening, ana, Verdict.HARD, 0)
    await say_it(evening, ana, Verdict.EASY, 0)
    assert evening.rows("SELECT movement, word FROM verdict") == [("Side plank", "easy")]


async def test_too_hard_and_too_easy_part_ways_next_time(evening: Evening, ana: Person) -> None:
    ben = evening.members["Ben"]
    for place in range(3):
        await say_it(evening, ana, Verdict.HARD, place)
        await say_it(evening, ben, Verdict.EASY, place)
    await evening.leap(ENDS)
    hard = (await evening.say(ana, "/variant")).text
    easy = (await evening.say(ben, "/variant")).text
    assert hard != easy


async def test_what_was_called_too_hard_is_told_as_that_and_not_as_a_number(
    evening: Evening, ana: Person
) -> None:
    await say_it(evening, ana, Verdict.HARD, 0)
    await say_it(evening, ana, Verdict.EASY, 2)
    await evening.leap(ENDS)
    told = (await evening.say(ana, "/variant")).text
    assert "too hard." in told
    assert "too easy." in told
    assert "You rated" not in told


async def test_a_rating_after_class_counts_instead(evening: Evening, ana: Person) -> None:
    await say_it(evening, ana, Verdict.HARD, 0)
    await evening.leap(PROMPTED)
    await evening.answer_all(ana, e0=3, e1=3, e2=3)
    rated = evening.rows("SELECT count(*) FROM answer WHERE question LIKE 'e%' AND number = 3")
    assert rated != [(0,)]
    assert is_kept_in_both_places(evening)


async def test_a_verdict_stands_where_the_movement_is_passed_over_after_class(
    evening: Evening, ana: Person
) -> None:
    """Whoever rates the class and skips the rest has taken nothing back."""
    await say_it(evening, ana, Verdict.HARD, 1)
    await evening.leap(ENDS)
    assert "too hard." in await push_ups(evening, ana)
    await evening.leap(PROMPTED)
    await evening.answer_all(ana, e=SKIPPED)
    assert "too hard." in await push_ups(evening, ana)


async def push_ups(evening: Evening, person: Person) -> str:
    """What is said of them, and why."""
    told = (await evening.say(person, "/variant")).text
    return next(part for part in told.split("\n\n") if "Push-up" in part)


def is_kept_in_both_places(evening: Evening) -> bool:
    """What was said in class stays; which of the two counts is decided where it is read."""
    return evening.rows("SELECT count(*) FROM verdict") == [(1,)]


async def test_when_the_class_is_over_the_buttons_are_closed(evening: Evening, ana: Person) -> None:
    await evening.say(ana, "/variant")
    old = ana.last_message
    await evening.leap(ENDS)
    await evening.press(ana, data_of(old, VerdictButton, verdict=Verdict.HARD), old)
    assert ana.private.messages[old.message_id].buttons == ()
    assert evening.rows("SELECT count(*) FROM verdict") == [(0,)]


async def test_a_verdict_can_be_taken_back_and_the_class_shown_again(
    evening: Evening, ana: Person
) -> None:
    shown = (await evening.say(ana, "/variant")).text
    await say_it(evening, ana, Verdict.HARD, 1)
    press = await evening.press(
        ana, data_of(ana.last_message, VerdictButton, verdict=None, place=1)
    )
    assert press.answer is not None
    assert press.answer.text == "Taken back."
    assert evening.rows("SELECT count(*) FROM verdict") == [(0,)]
    assert ana.last_message.text == shown


async def test_who_tapped_the_wrong_one_goes_back_to_the_class(
    evening: Evening, ana: Person
) -> None:
    shown = await evening.say(ana, "/variant")
    await evening.press(ana, data_of(shown, VerdictButton, verdict=Verdict.EASY))
    await evening.press(ana, data_of(ana.last_message, VerdictButton, verdict=None, place=None))
    assert ana.last_message.text == shown.text
    assert evening.rows("SELECT count(*) FROM verdict") == [(0,)]


async def test_a_movement_that_the_plan_does_not_have_is_refused(
    evening: Evening, ana: Person
) -> None:
    message = await evening.say(ana, "/variant")
    session = verdicts(message)[0].session
    forged = VerdictButton(session, Verdict.HARD, 77).write()
    ana.press_raw(message.message_id, forged)
    await evening.settle()
    assert evening.rows("SELECT count(*) FROM verdict") == [(0,)]
