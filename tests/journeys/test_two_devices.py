"""One person, two devices: an older screen meets what the other has done since."""

from datetime import timedelta

from bot.buttons import AnswerButton, JoinButton, ShowButton, View, WellAgainButton
from bot.buttons.personal import DataButton, HurtButton, PauseButton
from core.questions import Question
from core.reports import SymptomKind
from demo_script.stand_in import Message, Person
from tests.journeys.evening import (
    PROMPTED,
    Evening,
    answer_data,
    asked,
    button,
    buttons,
    data_of,
    is_summary,
    sent_to,
)


async def press_old(evening: Evening, person: Person, message: Message, data: str) -> str:
    """Press what a message showed before it changed; the toast."""
    press = person.press_raw(message.message_id, data)
    await evening.settle()
    assert press.answer is not None
    return press.answer.text


def now(person: Person, message: Message) -> Message:
    """The message as it stands now."""
    return person.private.messages[message.message_id]


async def test_all_right_said_on_an_old_list_hides_no_question_that_is_open(
    evening: Evening,
) -> None:
    await evening.class_is_over()
    ana = evening.members["Ana"]
    await evening.answer_all(ana, e0=7)
    await evening.press(ana, data_of(ana.last_message, ShowButton, view=View.ANSWERS))
    listed = ana.last_message
    await evening.press(ana, data_of(listed, ShowButton, view=Question.read("e0")))
    await evening.answer(ana, "e0", "unfinished")
    assert str(asked(ana.last_message)) == "d0"
    await press_old(evening, ana, listed, data_of(listed, ShowButton, view=View.SUMMARY))
    assert str(asked(ana.last_message)) == "d0"


async def test_an_amount_that_no_longer_can_be_is_refused_and_the_question_stays(
    evening: Evening,
) -> None:
    await evening.class_is_over()
    ana = evening.members["Ana"]
    await evening.answer(ana, "c", 7)
    await evening.answer(ana, "e0", "unfinished")
    old = ana.last_message
    offered = [each for each in buttons(old) if isinstance(each, AnswerButton) and each.number]
    most = max(each.number or 0 for each in offered)
    prompt = offered[0].prompt
    for data in (f"s:{prompt}:v0", f"a:{prompt}:v0:0", f"a:{prompt}:n0:{most:g}"):
        await press_old(evening, ana, old, data)
    before = evening.answers(ana)
    toast = await press_old(evening, ana, old, answer_data(old, "d0", most))
    assert toast == "This button is no longer in use."
    assert evening.answers(ana) == before
    assert asked(ana.last_message) is not None


async def test_both_devices_may_answer_in_any_order_and_end_with_the_same_summary(
    evening: Evening,
) -> None:
    await evening.class_is_over()
    ana = evening.members["Ana"]
    first = ana.last_message
    await evening.answer(ana, "c", 6)
    second = ana.last_message
    await press_old(evening, ana, first, answer_data(first, "c", 8))
    await press_old(evening, ana, second, answer_data(second, "e0", 4))
    await evening.answer_all(ana)
    assert is_summary(ana.last_message)
    assert (evening.answers(ana)["c"], evening.answers(ana)["e0"]) == (8.0, 4.0)


async def test_a_pause_chosen_on_one_device_is_what_the_other_shows_next(evening: Evening) -> None:
    ana = evening.members["Ana"]
    question = await evening.say(ana, "/pause")
    await evening.press(ana, data_of(question, PauseButton, choice="7"))
    chosen = evening.dump()
    old = data_of(question, PauseButton, choice="28")
    assert await press_old(evening, ana, question, old) == "This button is no longer in use."
    assert evening.dump() == chosen
    assert button(now(ana, question), PauseButton, choice="end").id


async def test_after_erasing_on_one_device_the_other_changes_nothing(evening: Evening) -> None:
    ana = evening.members["Ana"]
    await evening.class_is_over()
    prompt = ana.last_message
    await evening.say(ana, "/mydata")
    await evening.press(ana, data_of(ana.last_message, DataButton, choice="erase"))
    question = ana.last_message
    await evening.press(ana, data_of(question, DataButton, choice="yes"))
    gone = evening.dump()
    for message, data in (
        (prompt, answer_data(prompt, "c", 7)),
        (question, data_of(question, DataButton, choice="no")),
    ):
        assert await press_old(evening, ana, message, data) == "This button doesn't work for you."
    assert evening.dump() == gone


async def test_an_erasure_that_was_called_off_on_one_device_is_asked_anew_on_the_other(
    evening: Evening,
) -> None:
    ana = evening.members["Ana"]
    await evening.say(ana, "/mydata")
    await evening.press(ana, data_of(ana.last_message, DataButton, choice="erase"))
    question = ana.last_message
    await evening.press(ana, data_of(question, DataButton, choice="no"))
    await press_old(evening, ana, question, data_of(question, DataButton, choice="yes"))
    assert evening.rows("SELECT count(*) FROM erased") == [(0,)]
    assert button(now(ana, question), DataButton, choice="erase").id


async def test_terms_that_were_agreed_to_on_one_device_are_answered_on_the_other(
    evening: Evening,
) -> None:
    dana = evening.api.person("Dana")
    for _ in range(2):
        dana.open_link(evening.link)
        await evening.settle()
    terms = [each for each in dana.messages if each.buttons]
    here = len(evening.api.log)
    for each in terms:
        press = dana.press(each, data_of(each, JoinButton, yes=True))
        await evening.settle()
        assert press.answer is not None
    told = [each for each in sent_to(evening.api, evening.instructor, here) if "Dana" in each]
    assert len(told) == 1
    assert all("joined" in now(dana, each).text or not now(dana, each).buttons for each in terms)


async def test_well_again_is_said_once_however_often_it_is_tapped(evening: Evening) -> None:
    ana, ines = evening.members["Ana"], evening.instructor
    await evening.say(ana, "/hurt")
    await evening.press(ana, data_of(ana.last_message, HurtButton, symptom=SymptomKind.WARNING))
    told, here = ana.last_message, len(evening.api.log)
    well = data_of(told, WellAgainButton)
    for _ in range(3):
        assert await press_old(evening, ana, told, well) == "Noted."
    assert len(sent_to(evening.api, ana, here)) == 1
    assert len(sent_to(evening.api, ines, here)) == 1


async def test_what_is_typed_counts_for_the_message_that_was_pressed_last(evening: Evening) -> None:
    await evening.class_is_over()
    ana = evening.members["Ana"]
    first = ana.last_message
    for hours in range(1, 16):
        await evening.leap(PROMPTED + timedelta(hours=hours))
    reminder = ana.last_message
    assert reminder.message_id != first.message_id
    await evening.press(ana, answer_data(first, "c", 0), first)
    await evening.press(ana, answer_data(reminder, "c", 4), reminder)
    back = data_of(now(ana, first), ShowButton, view=Question.read("c"))
    await evening.press(ana, back, now(ana, first))
    assert str(asked(now(ana, first))) == "c"
    await evening.say(ana, "7.5")
    assert str(asked(now(ana, first))) == "e0"
    assert evening.answers(ana) == {"c": 7.5}
