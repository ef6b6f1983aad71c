"""After class: every question by button and by typing, in one message that changes in place."""

import random

import pytest

from bot.buttons import AnswerButton, ShowButton, View
from bot.storage import groups
from bot.storage.history import reports_of_group
from core.questions import Question
from demo_script.stand_in import Message, Person
from tests.journeys.evening import (
    PROMPTED,
    STARTS,
    WEEK,
    Evening,
    answer_data,
    asked,
    buttons,
    data_of,
    is_summary,
    sent_to,
)


@pytest.fixture
async def ana(evening: Evening) -> Person:
    """A member who has just been asked about her first class."""
    await evening.class_is_over()
    return evening.members["Ana"]


async def change(evening: Evening, person: Person, question: str) -> Message:
    """From the summary to one question, by the two buttons that lead there."""
    await evening.press(person, data_of(person.last_message, ShowButton, view=View.ANSWERS))
    view = Question.read(question)
    await evening.press(person, data_of(person.last_message, ShowButton, view=view))
    return person.last_message


async def test_a_member_answers_every_question_with_buttons_in_one_message(
    evening: Evening, ana: Person
) -> None:
    prompt, since = ana.last_message, len(evening.api.log)
    assert str(asked(prompt)) == "c"
    await evening.answer_all(ana, c=6, e0=8)
    assert is_summary(ana.last_message)
    assert ana.last_message.message_id == prompt.message_id
    assert sent_to(evening.api, ana, since) == []
    stored = evening.answers(ana)
    assert (stored["c"], stored["e0"], stored["h"]) == (6.0, 8.0, "fine")


@pytest.mark.parametrize(
    ("typed", "stored"), [("7", 7.0), ("7.5", 7.5), ("7,5", 7.5), ("7/10", 7.0), ("70 %", 7.0)]
)
async def test_a_rating_may_be_typed(
    evening: Evening, ana: Person, typed: str, stored: float
) -> None:
    prompt = ana.last_message
    await evening.say(ana, typed)
    assert evening.answers(ana) == {"c": stored}
    assert ana.last_message.message_id == prompt.message_id
    assert str(asked(ana.last_message)) != "c"


async def test_everything_that_takes_a_number_may_be_typed(evening: Evening, ana: Person) -> None:
    while (question := asked(ana.last_message)) is not None and str(question) != "h":
        await evening.say(ana, "7")
    await evening.answer(ana, "h", "fine")
    assert is_summary(ana.last_message)
    stored = evening.answers(ana)
    assert stored.pop("h") == "fine"
    assert set(stored.values()) == {7.0}


@pytest.mark.parametrize(
    "typed", ["11", "-1", "seven", "7 or 8", "👍", "7/12", "170 %", "\u202e7", "'; --", "<b>7</b>"]
)
async def test_anything_else_is_explained_and_nothing_is_stored(
    evening: Evening, ana: Person, typed: str
) -> None:
    before = evening.dump()
    said = await evening.say(ana, typed)
    assert "nothing was stored" in said.text
    assert "7.5" in said.text
    assert evening.dump() == before


async def test_a_picture_in_place_of_an_answer_is_explained_too(
    evening: Evening, ana: Person
) -> None:
    before = evening.dump()
    evening.api.inject(
        {
            "message": {
                "message_id": 5000,
                "date": int(evening.now.timestamp()),
                "chat": {"id": ana.person_id, "type": "private", "first_name": ana.name},
                "from": {
                    "id": ana.person_id,
                    "is_bot": False,
                    "first_name": ana.name,
                    "language_code": "en",
                },
                "sticker": {
                    "file_id": "s",
                    "file_unique_id": "s",
                    "type": "regular",
                    "width": 8,
                    "height": 8,
                    "is_animated": False,
                    "is_video": False,
                },
            }
        }
    )
    await evening.settle()
    assert "nothing was stored" in ana.last_message.text
    assert evening.dump() == before


async def test_the_question_about_pain_wants_a_button(evening: Evening, ana: Person) -> None:
    while str(asked(ana.last_message)) != "h":
        await evening.answer(ana, str(asked(ana.last_message)), "skipped")
    said = await evening.say(ana, "my knee")
    assert "one of its buttons" in said.text
    assert "h" not in evening.answers(ana)


async def test_the_way_back_leads_to_the_question_before(evening: Evening, ana: Person) -> None:
    await evening.answer(ana, "c", 7)
    second = asked(ana.last_message)
    await evening.press(ana, data_of(ana.last_message, ShowButton, view=Question.read("c")))
    assert str(asked(ana.last_message)) == "c"
    assert "7" in ana.last_message.text
    await evening.answer(ana, "c", 5)
    assert evening.answers(ana) == {"c": 5.0}
    assert asked(ana.last_message) == second


async def test_every_question_may_be_skipped(evening: Evening, ana: Person) -> None:
    while (question := asked(ana.last_message)) is not None:
        await evening.answer(ana, str(question), "skipped")
    assert is_summary(ana.last_message)
    assert set(evening.answers(ana).values()) == {"skipped"}


async def test_whoever_was_not_there_is_asked_nothing_more(evening: Evening, ana: Person) -> None:
    await evening.answer(ana, "c", "absent")
    assert is_summary(ana.last_message)
    assert "wasn't there" in ana.last_message.text
    assert evening.answers(ana) == {"c": "absent"}


async def test_whoever_stopped_early_is_asked_how_far_they_got(
    evening: Evening, ana: Person
) -> None:
    await evening.answer(ana, "c", 9)
    await evening.answer(ana, "e0", "unfinished")
    question = ana.last_message
    assert str(asked(question)) == "d0"
    offered = [b.number for b in buttons(question) if isinstance(b, AnswerButton) and b.number]
    assert offered
    await evening.answer(ana, "d0", offered[0])
    assert evening.answers(ana)["d0"] == offered[0]


async def test_who_stopped_early_did_less_than_the_whole(evening: Evening, ana: Person) -> None:
    await evening.answer(ana, "c", 9)
    await evening.answer(ana, "e0", "unfinished")
    said = await evening.say(ana, "4000")
    assert "nothing was stored" in said.text
    assert "d0" not in evening.answers(ana)
    await evening.say(ana, "3")
    assert evening.answers(ana)["d0"] == 3.0


async def test_the_reserve_is_asked_only_where_some_is_left(evening: Evening, ana: Person) -> None:
    await evening.answer_all(ana, e=10)
    assert not [question for question in evening.answers(ana) if question.startswith("r")]


async def test_pain_is_followed_by_where(evening: Evening, ana: Person) -> None:
    await evening.answer_all(ana, h="pain", w=1)
    assert "joint or sharp pain" in ana.last_message.text
    assert "rest whatever hurts" in ana.last_message.text
    assert evening.rows("SELECT kind, movement FROM symptom") == [("pain", "Push-up")]


async def test_a_warning_sign_is_answered_at_once_and_the_answer_stays(
    evening: Evening, ana: Person
) -> None:
    while str(asked(ana.last_message)) != "h":
        await evening.answer(ana, str(asked(ana.last_message)), "skipped")
    press = await evening.answer(ana, "h", "warning")
    assert press.answer is not None
    assert press.answer.show_alert
    assert "get medical help" in press.answer.text
    assert "emergency number" in ana.last_message.text


async def test_an_answer_may_be_corrected_until_the_next_class_starts(
    evening: Evening, ana: Person
) -> None:
    await evening.answer_all(ana)
    await evening.leap(STARTS + WEEK - (PROMPTED - STARTS))
    question = await change(evening, ana, "c")
    await evening.press(ana, answer_data(question, "c", 3))
    assert evening.answers(ana)["c"] == 3.0
    assert is_summary(ana.last_message)
    question = await change(evening, ana, "c")
    await evening.leap(STARTS + WEEK)
    press = await evening.press(ana, answer_data(question, "c", 9))
    assert press.answer is not None
    assert "closed" in press.answer.text
    assert evening.answers(ana)["c"] == 3.0
    assert ana.private.messages[question.message_id].buttons == ()
    assert "stays as it is" in ana.private.messages[question.message_id].text


async def test_what_is_typed_after_the_next_class_has_begun_is_not_stored(
    evening: Evening, ana: Person
) -> None:
    await evening.leap(STARTS + WEEK)
    said = await evening.say(ana, "8")
    assert "next class has already started" in said.text
    assert evening.answers(ana) == {}


async def test_correcting_a_finished_movement_asks_what_now_matters(
    evening: Evening, ana: Person
) -> None:
    await evening.answer_all(ana, e0=7)
    question = await change(evening, ana, "e0")
    await evening.press(ana, answer_data(question, "e0", "unfinished"))
    assert str(asked(ana.last_message)) == "d0"
    await evening.answer(ana, "d0", "skipped")
    assert is_summary(ana.last_message)


async def test_who_says_that_all_is_right_after_all_sees_the_summary(
    evening: Evening, ana: Person
) -> None:
    await evening.answer_all(ana)
    summary = ana.last_message
    await evening.press(ana, data_of(summary, ShowButton, view=View.ANSWERS))
    await evening.press(ana, data_of(ana.last_message, ShowButton, view=View.SUMMARY))
    assert is_summary(ana.last_message)
    assert ana.last_message.text == summary.text


async def test_what_changes_next_time_stays_in_sight_when_nothing_is_changed(
    evening: Evening, ana: Person
) -> None:
    await evening.answer_all(ana, c=10, e=10)
    summary = ana.last_message
    assert "Next time" in summary.text
    for view in (View.ANSWERS, View.SUMMARY) * 2:
        await evening.press(ana, data_of(ana.last_message, ShowButton, view=view))
    assert ana.last_message.text == summary.text


async def test_a_double_tap_is_one_answer(evening: Evening, ana: Person) -> None:
    data = answer_data(ana.last_message, "c", 7)
    presses = [ana.press_raw(ana.last_message.message_id, data) for _ in range(3)]
    await evening.settle()
    assert all(press.answer is not None for press in presses)
    assert evening.rows("SELECT question, number FROM answer") == [("c", 7.0)]


async def test_of_two_presses_at_once_the_later_counts(evening: Evening, ana: Person) -> None:
    prompt = ana.last_message
    for value in (6, 9, 8):
        ana.press(prompt, answer_data(prompt, "c", value))
    await evening.settle()
    assert evening.answers(ana) == {"c": 8.0}


async def test_old_buttons_of_a_message_that_has_moved_on_still_answer(
    evening: Evening, ana: Person
) -> None:
    first = ana.last_message
    await evening.answer_all(ana)
    press = ana.press_raw(first.message_id, answer_data(first, "c", 4))
    await evening.settle()
    assert press.answer is not None
    assert evening.answers(ana)["c"] == 4.0
    assert is_summary(ana.last_message)


async def test_a_press_whose_message_the_app_no_longer_has_counts_as_well(
    evening: Evening, ana: Person
) -> None:
    prompt = ana.last_message
    press = ana.press(prompt, answer_data(prompt, "c", 7), accessible=False)
    await evening.settle()
    assert press.answer is not None
    assert evening.answers(ana) == {"c": 7.0}
    assert ana.last_message.message_id == prompt.message_id


async def test_cancel_leaves_the_question_open(evening: Evening, ana: Person) -> None:
    prompt = ana.last_message
    assert "leave that question open" in (await evening.say(ana, "/cancel")).text
    assert "no open question" in (await evening.say(ana, "7")).text
    assert evening.answers(ana) == {}
    await evening.press(ana, answer_data(prompt, "c", 7), prompt)
    assert evening.answers(ana) == {"c": 7.0}


async def test_two_members_answer_at_once_and_apart(evening: Evening, ana: Person) -> None:
    ben = evening.members["Ben"]
    for person, value in ((ana, 3), (ben, 9)):
        person.press(person.last_message, answer_data(person.last_message, "c", value))
    await evening.settle()
    assert evening.answers(ana) == {"c": 3.0}
    assert evening.answers(ben) == {"c": 9.0}


@pytest.mark.parametrize("seed", range(3))
async def test_answers_do_not_depend_on_the_order_in_which_they_arrive(
    evening: Evening, ana: Person, seed: int
) -> None:
    """Ben presses what Ana pressed, but in another order, as when a line breaks and comes back."""
    ben, luck = evening.members["Ben"], random.Random(seed)
    values = {"c": "6", "e0": "9", "e1": "unfinished", "d1": "2", "h": "soreness"}
    for person in (ana, ben):
        prompt = (person.last_message.buttons[0][0].data or "").split(":")[1]
        order = sorted(values) if person is ana else luck.sample(sorted(values), k=len(values))
        for question in order:
            data = f"a:{prompt}:{question}:{values[question]}"
            person.press_raw(person.last_message.message_id, data)
    await evening.settle()
    assert evening.answers(ana) == evening.answers(ben)
    assert {key: str(value).removesuffix(".0") for key, value in evening.answers(ana).items()} == (
        values
    )


async def test_what_core_reads_is_what_was_tapped(evening: Evening, ana: Person) -> None:
    await evening.answer_all(ana, c=6, e0=8, r0=5, e1=4)
    stored = evening.answers(ana)
    async with evening.theatre.house.database.transaction() as tx:
        (group,) = await groups.all_groups(tx)
        reports = await reports_of_group(tx, group.id)
    (rating,) = reports.ratings
    assert (rating.effort, rating.minutes, rating.attended) == (6.0, 50.0, True)
    efforts = [bout.effort for bout in reports.bouts if bout.effort is not None]
    assert sorted(efforts) == sorted([stored["e0"], stored["e1"]], key=repr)
    reserves = [bout.reserve for bout in reports.bouts if bout.reserve is not None]
    assert reserves == [stored[key] for key in sorted(stored) if key.startswith("r")]
