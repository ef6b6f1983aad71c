"""A pain report is over when both have said so, in either order; then things may move."""

import pytest

from bot.buttons import ClearButton, WellAgainButton
from bot.buttons.personal import HurtButton
from core.reports import SymptomKind
from demo_script.stand_in import Message, Person
from tests.journeys.evening import PROMPTED, STARTS, WEEK, Evening, buttons, data_of, sent_to

HELD = "no harder until you and your instructor have cleared it"
BEFORE_NEXT = STARTS + WEEK - (PROMPTED - STARTS)


def last_with(person: Person, kind: type[WellAgainButton] | type[ClearButton]) -> Message:
    """The newest message under which this can be pressed."""
    return next(
        each
        for each in reversed(person.messages)
        if each.buttons and any(isinstance(button, kind) for button in buttons(each))
    )


@pytest.fixture
async def told(evening: Evening) -> Evening:
    """Ana has reported pain in the side plank, and the next class has been called out since."""
    ana = evening.members["Ana"]
    await evening.class_is_over()
    await evening.answer_all(ana, c=5, e=4)
    await evening.say(ana, "/hurt")
    pain = data_of(ana.last_message, HurtButton, symptom=SymptomKind.PAIN, group=None)
    await evening.press(ana, pain)
    await evening.press(ana, "Side plank")
    await evening.leap(BEFORE_NEXT)
    assert frozen(evening, ana) is not None
    return evening


def frozen(evening: Evening, person: Person) -> object:
    """What was called out for this person; None if it may move."""
    found = evening.rows(
        """SELECT document FROM advice JOIN person ON person.id = person_id
        JOIN session ON session.id = session_id WHERE account = ? AND starts_at > ?""",
        person.person_id,
        f"{PROMPTED:%Y-%m-%dT%H:%M:%SZ}",
    )
    return found[0][0] if found else None


async def clears(evening: Evening) -> None:
    """The instructor says that it may get harder again."""
    message = last_with(evening.instructor, ClearButton)
    await evening.press(evening.instructor, data_of(message, ClearButton), message)


async def is_well(evening: Evening) -> None:
    """The member says that it is fine again."""
    ana = evening.members["Ana"]
    message = last_with(ana, WellAgainButton)
    await evening.press(ana, data_of(message, WellAgainButton), message)


async def test_the_member_first_and_is_told_when_the_instructor_agrees(told: Evening) -> None:
    ana, before = told.members["Ana"], frozen(told, told.members["Ana"])
    await is_well(told)
    assert "until your instructor has cleared it too" in ana.last_message.text
    assert frozen(told, ana) == before
    assert HELD in (await told.say(ana, "/variant")).text
    here = len(told.api.log)
    await clears(told)
    news = sent_to(told.api, ana, here)
    assert news == ["Your instructor has cleared Side plank too, so it may get harder again."]
    assert frozen(told, ana) is None
    assert HELD not in (await told.say(ana, "/variant")).text


async def test_the_instructor_first_and_the_member_is_asked_one_question(told: Evening) -> None:
    ana, before = told.members["Ana"], frozen(told, told.members["Ana"])
    here = len(told.api.log)
    await clears(told)
    (question,) = sent_to(told.api, ana, here)
    assert "Does it feel fine again?" in question
    assert frozen(told, ana) == before
    assert HELD in (await told.say(ana, "/variant")).text
    await is_well(told)
    assert any("cleared it too" in each for each in sent_to(told.api, ana, here))
    assert frozen(told, ana) is None
    assert HELD not in (await told.say(ana, "/variant")).text


async def test_nobody_else_clears_it_for_either(told: Evening) -> None:
    ana, ben, stranger = told.members["Ana"], told.members["Ben"], told.api.person("Stu")
    well = data_of(last_with(ana, WellAgainButton), WellAgainButton)
    clear = data_of(last_with(told.instructor, ClearButton), ClearButton)
    before = told.dump()
    for other in (ben, stranger):
        for data in (well, clear):
            press = other.press_raw(ana.last_message.message_id, data)
            await told.settle()
            assert press.answer is not None
            assert press.answer.text == "This button doesn't work for you."
    assert told.dump() == before
