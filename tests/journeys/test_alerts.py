"""What the instructor hears at once, with its evidence, and what becomes of it."""

from datetime import timedelta

import pytest

from bot.buttons import ClearButton, SeenButton, ShowButton, View, WellAgainButton
from core.questions import Question
from demo_script.stand_in import Message, Person
from tests.journeys.evening import (
    PROMPTED,
    Evening,
    answer_data,
    asked,
    buttons,
    data_of,
    sent_to,
)

WARNED = "reported a warning sign"
HURT = "reported joint or sharp pain"
MAXIMAL = "keeps going to the maximum"


def alerts(person: Person) -> list[Message]:
    """The alerts in this person's chat, as they look now, oldest first."""
    told = (WARNED, HURT, MAXIMAL)
    return [m for m in person.messages if any(words in m.text for words in told) and m.buttons]


def all_alerts(person: Person) -> list[Message]:
    """The same, with those that are over."""
    return [m for m in person.messages if any(w in m.text for w in (WARNED, HURT, MAXIMAL))]


async def classes(evening: Evening, *ratings: dict[str, float | str], first: int = 0) -> None:
    """Ana answers one class a week like this."""
    for week, given in enumerate(ratings, start=first):
        await evening.class_is_over(week)
        await evening.answer_all(evening.members["Ana"], **given)


async def second_instructor(evening: Evening) -> Person:
    """Ben leads the group as well from now on."""
    ben = evening.members["Ben"]
    async with evening.theatre.house.database.transaction() as tx:
        await tx.execute(
            """INSERT INTO leading (group_id, person_id, since)
            SELECT training_group.id, person.id, met_at FROM training_group, person
            WHERE account = :account""",
            account=ben.person_id,
        )
    return ben


@pytest.mark.parametrize(("what", "told"), [("warning", WARNED), ("pain", HURT)])
async def test_every_instructor_hears_at_once_of_pain_and_warning_signs(
    evening: Evening, what: str, told: str
) -> None:
    ben = await second_instructor(evening)
    await classes(evening, {"h": what})
    for instructor in (evening.instructor, ben):
        (alert,) = alerts(instructor)
        assert "Ana" in alert.text
        assert told in alert.text
        assert "Harbour Hall strength" in alert.text
    assert not alerts(evening.members["Cleo"])


async def test_sore_muscles_alarm_nobody(evening: Evening) -> None:
    await classes(evening, {"h": "soreness"})
    assert all_alerts(evening.instructor) == []


async def test_the_alert_names_the_movement_once_it_is_said(evening: Evening) -> None:
    await classes(evening, {"h": "pain", "w": 1})
    (alert,) = alerts(evening.instructor)
    assert "Push-up" in alert.text


async def test_one_maximal_class_alarms_nobody(evening: Evening) -> None:
    await classes(evening, {"c": 10, "e": 8})
    assert all_alerts(evening.instructor) == []


async def test_two_of_three_maximal_classes_are_told_with_both(evening: Evening) -> None:
    await classes(evening, {"c": 10, "e": 7}, {"c": 7, "e": 7}, {"c": 10, "e": 7})
    (alert,) = alerts(evening.instructor)
    assert MAXIMAL in alert.text
    assert alert.text.count("10 of 10") == 2


async def test_unfinished_movements_count_whatever_the_class_was(evening: Evening) -> None:
    ana = evening.members["Ana"]
    for week in (0, 2):
        await evening.class_is_over(week)
        await evening.answer(ana, "c", 6)
        await evening.answer(ana, "e0", "unfinished")
        await evening.say(ana, "3")
        await evening.answer_all(ana)
        if week == 0:
            await classes(evening, {"c": 6, "e": 6}, first=1)
    (alert,) = alerts(evening.instructor)
    assert MAXIMAL in alert.text
    assert alert.text.count("stopped at 3") == 2


async def test_a_third_maximal_class_continues_what_was_told(evening: Evening) -> None:
    hard: dict[str, float | str] = {"c": 10, "e": 7}
    await classes(evening, hard, hard)
    since = len(evening.api.log)
    await classes(evening, hard, first=2)
    new = [text for text in sent_to(evening.api, evening.instructor, since) if MAXIMAL in text]
    assert new == []
    (alert,) = alerts(evening.instructor)
    assert alert.text.count("10 of 10") == 3


async def test_a_new_run_after_quiet_weeks_is_told_anew(evening: Evening) -> None:
    hard: dict[str, float | str] = {"c": 10, "e": 7}
    calm: dict[str, float | str] = {"c": 6, "e": 6}
    await classes(evening, hard, hard, calm, calm, calm)
    assert alerts(evening.instructor) == []
    assert "no longer holds" in all_alerts(evening.instructor)[0].text
    await classes(evening, hard, hard, first=5)
    assert len(all_alerts(evening.instructor)) == 2
    assert len(alerts(evening.instructor)) == 1


async def test_a_corrected_answer_ends_the_alert(evening: Evening) -> None:
    hard: dict[str, float | str] = {"c": 10, "e": 7}
    await classes(evening, hard, hard)
    assert len(alerts(evening.instructor)) == 1
    ana = evening.members["Ana"]
    await evening.press(ana, data_of(ana.last_message, ShowButton, view=View.ANSWERS))
    await evening.press(ana, data_of(ana.last_message, ShowButton, view=Question.read("c")))
    await evening.press(ana, answer_data(ana.last_message, "c", 7))
    assert alerts(evening.instructor) == []
    assert "no longer holds" in all_alerts(evening.instructor)[0].text


async def test_pain_tapped_by_mistake_is_taken_back(evening: Evening) -> None:
    await classes(evening, {"h": "pain"})
    ana = evening.members["Ana"]
    await evening.press(ana, data_of(ana.last_message, ShowButton, view=View.ANSWERS))
    await evening.press(ana, data_of(ana.last_message, ShowButton, view=Question.read("h")))
    await evening.press(ana, answer_data(ana.last_message, "h", "fine"))
    assert asked(ana.last_message) is None
    assert "no longer holds" in all_alerts(evening.instructor)[0].text
    assert evening.rows("SELECT count(*) FROM symptom WHERE withdrawn_at IS NULL") == [(0,)]


async def test_an_alert_is_marked_as_seen_by_name_and_for_everyone(evening: Evening) -> None:
    ben = await second_instructor(evening)
    await classes(evening, {"h": "pain"})
    (alert,) = alerts(evening.instructor)
    await evening.press(evening.instructor, data_of(alert, SeenButton), alert)
    for instructor in (evening.instructor, ben):
        (seen,) = all_alerts(instructor)
        assert "Seen by Ines" in seen.text
        assert not any(isinstance(each, SeenButton) for each in buttons(seen))
    again = ben.press_raw(alert.message_id, data_of(alert, SeenButton))
    await evening.settle()
    assert again.answer is not None
    assert "already" in again.answer.text


@pytest.mark.parametrize("member_first", [True, False], ids=["member first", "instructor first"])
async def test_it_takes_both_to_clear_pain(evening: Evening, member_first: bool) -> None:
    await classes(evening, {"h": "pain", "w": 0})
    ana, ines = evening.members["Ana"], evening.instructor
    (alert,) = alerts(ines)
    if member_first:
        variant = await evening.say(ana, "/variant")
        await evening.press(ana, data_of(variant, WellAgainButton), variant)
        assert "until your instructor has cleared it" in ana.last_message.text
        assert open_symptoms(evening) == 1
        await evening.press(ines, data_of(ines.last_message, ClearButton))
    else:
        await evening.press(ines, data_of(alert, ClearButton), alert)
        assert open_symptoms(evening) == 1
        assert "Does it feel fine again?" in ana.last_message.text
        await evening.press(ana, data_of(ana.last_message, WellAgainButton))
        assert "has cleared it too" in ana.last_message.text
    assert open_symptoms(evening) == 0
    assert "no longer holds" in all_alerts(ines)[0].text


def open_symptoms(evening: Evening) -> int:
    """How many symptoms still hold."""
    found = evening.rows(
        """SELECT count(*) FROM symptom WHERE withdrawn_at IS NULL
        AND (cleared_by_member IS NULL OR cleared_by_instructor IS NULL)"""
    )
    return int(str(found[0][0]))


async def test_urgent_alerts_go_out_ahead_of_waiting_prompts(evening: Evening) -> None:
    await evening.join(*(f"Member {number}" for number in range(50)))
    evening.theatre.clock.push_to(PROMPTED)
    await evening.theatre.house.turn()
    ana = evening.members["Ana"]
    await evening.api.until(lambda: asked(ana.last_message) is not None)
    prompt = next(b for b in buttons(ana.last_message) if hasattr(b, "prompt"))
    ana.press_raw(ana.last_message.message_id, f"a:{prompt.prompt}:h:warning")
    await evening.settle()
    log = [event.text for event in evening.api.log if event.direction == "out"]
    alert = next(place for place, text in enumerate(log) if WARNED in text)
    assert sum("How hard was the whole class" in text for text in log[alert:]) > 10


async def test_an_alert_that_may_not_have_arrived_comes_again_and_says_so(
    evening: Evening,
) -> None:
    from demo_script.stand_in.faults import Trouble

    def lost(method: str, parameters: object) -> Trouble | None:
        told = str(parameters)
        if method == "sendMessage" and WARNED in told and "twice" not in told:
            return Trouble(applied=True, cut=True)
        return None

    await evening.class_is_over()
    evening.api.faults.append(lost)
    await evening.answer_all(evening.members["Ana"], h="warning")
    await evening.leap(evening.now + timedelta(minutes=1))
    told = [text for text in sent_to(evening.api, evening.instructor) if WARNED in text]
    assert len(told) == 2
    assert "twice" in told[1]
