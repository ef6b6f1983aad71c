"""A pause: left in peace until a day, told to the instructor, over by itself or by a button."""

from datetime import timedelta

import pytest

from bot.buttons.personal import PauseButton
from demo_script.stand_in import Person
from tests.journeys.evening import ENDS, PROMPTED, STARTS, WEEK, Evening, button, data_of, sent_to

REFUSALS = ("This button doesn't work for you.", "This button is no longer in use.")


async def pause(evening: Evening, person: Person, choice: str) -> None:
    """Ask for a pause and tap a length."""
    await evening.say(person, "/pause")
    await evening.press(person, data_of(person.last_message, PauseButton, choice=choice))


async def test_one_week_means_no_prompt_no_reminder_and_then_all_is_as_before(
    evening: Evening,
) -> None:
    ana, ben = evening.members["Ana"], evening.members["Ben"]
    await pause(evening, ana, "7")  # Monday to Monday
    assert "Mon 7 Sept" in ana.last_message.text
    here = len(evening.api.log)
    await evening.leap(STARTS - timedelta(minutes=60))
    assert "On pause, so not asked: Ana" in evening.instructor.last_message.text
    await evening.leap(PROMPTED)
    await evening.leap(PROMPTED + timedelta(hours=15))
    assert sent_to(evening.api, ana, here) == []
    assert len(sent_to(evening.api, ben, here)) == 2
    await evening.class_is_over(week=1)
    assert "How hard" in ana.last_message.text


async def test_a_pause_ends_by_its_button_and_the_button_works_once(evening: Evening) -> None:
    ana = evening.members["Ana"]
    await pause(evening, ana, "open")
    message = ana.last_message
    assert "until you end it" in message.text
    data = data_of(message, PauseButton, choice="end")
    await evening.press(ana, data, message)
    assert "Welcome back" in ana.last_message.text
    again = ana.press_raw(message.message_id, data)
    await evening.settle()
    assert again.answer is not None
    assert again.answer.text == "This button is no longer in use."
    await evening.class_is_over()
    assert "How hard" in ana.last_message.text


async def test_whoever_pauses_after_the_prompt_is_not_reminded(evening: Evening) -> None:
    ana = evening.members["Ana"]
    await evening.class_is_over()
    await pause(evening, ana, "28")
    here = len(evening.api.log)
    await evening.leap(PROMPTED + timedelta(hours=15))
    assert sent_to(evening.api, ana, here) == []


@pytest.mark.parametrize("typed", ["2026-09-20", "20/9", "20.9.2026", "20 Sept", "Sep 20", "20th"])
async def test_a_day_can_be_typed(evening: Evening, typed: str) -> None:
    ana = evening.members["Ana"]
    await evening.say(ana, "/pause")
    said = await evening.say(ana, typed)
    if typed == "20th":
        assert "couldn't read" in said.text
        assert evening.rows("SELECT ends_at FROM pause") == []
        said = await evening.say(ana, "2026-09-20")
    assert "Sun 20 Sept" in said.text
    assert evening.rows("SELECT ends_at FROM pause") == [("2026-09-19T23:00:00Z",)]


async def test_days_that_are_over_or_too_far_are_refused(evening: Evening) -> None:
    ana = evening.members["Ana"]
    await evening.say(ana, "/pause")
    for typed in ("2026-08-30", "2026-08-31", "2028-01-01", "soon", "31/2", "7"):
        assert "couldn't read" in (await evening.say(ana, typed)).text
    assert evening.rows("SELECT count(*) FROM pause") == [(0,)]


async def test_what_is_typed_answers_the_newest_question(evening: Evening) -> None:
    ana = evening.members["Ana"]
    await evening.say(ana, "/pause")
    await evening.class_is_over()  # the prompt comes below it
    await evening.say(ana, "7")
    assert evening.answers(ana)["c"] == 7.0
    await evening.say(ana, "/pause")
    await evening.say(ana, "8")
    assert list(evening.answers(ana)) == ["c"]
    await evening.say(ana, "20/9")
    assert "pause" in ana.last_message.text
    await evening.say(ana, "8")
    assert evening.answers(ana)["e0"] == 8.0


async def test_cancel_drops_the_question_and_its_buttons(evening: Evening) -> None:
    ana = evening.members["Ana"]
    message = await evening.say(ana, "/pause")
    data = data_of(message, PauseButton, choice="7")
    assert "dropped that question" in (await evening.say(ana, "/cancel")).text
    press = ana.press_raw(message.message_id, data)
    await evening.settle()
    assert press.answer is not None
    assert press.answer.text == "This button is no longer in use."
    assert "nothing to cancel" in (await evening.say(ana, "/cancel")).text
    assert evening.rows("SELECT count(*) FROM pause") == [(0,)]


async def test_nobody_pauses_somebody_else_and_a_double_tap_pauses_once(
    evening: Evening,
) -> None:
    ana, ben, stranger = evening.members["Ana"], evening.members["Ben"], evening.api.person("Stu")
    assert "invited" in (await evening.say(stranger, "/pause")).text
    message = await evening.say(ana, "/pause")
    data = data_of(message, PauseButton, choice="7")
    for other in (ben, stranger):
        press = other.press_raw(message.message_id, data)
        await evening.settle()
        assert press.answer is not None
        assert press.answer.text in REFUSALS
    for _ in range(2):
        ana.press_raw(message.message_id, data)
    await evening.settle()
    assert evening.rows("SELECT count(*) FROM pause") == [(1,)]
    end = button(ana.last_message, PauseButton, choice="end")
    press = ben.press_raw(message.message_id, end.write())
    await evening.settle()
    assert press.answer is not None
    assert press.answer.text == "This button is no longer in use."
    assert evening.rows("SELECT count(*) FROM pause") == [(1,)]


async def test_a_pause_is_gone_from_the_books_once_it_is_over(evening: Evening) -> None:
    ana = evening.members["Ana"]
    await pause(evening, ana, "7")
    await evening.leap(ENDS + WEEK)
    assert evening.rows("SELECT count(*) FROM pause") == [(0,)]
