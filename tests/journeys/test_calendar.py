"""What happens because time passes: once, in time, at humane hours, and after any sleep."""

from datetime import UTC, datetime, timedelta

import pytest

from bot.buttons import ShowButton, View
from bot.desk import calendar
from bot.storage import rescheduling, sessions
from bot.storage.sessions import Session
from demo_script.stand_in import Person
from tests.journeys.evening import (
    ENDS,
    PROMPTED,
    STARTS,
    WEEK,
    Evening,
    asked,
    data_of,
    is_summary,
    sent_to,
)
from tests.journeys.plans import plan_text

REMINDED = PROMPTED + timedelta(hours=14)
DIGEST = STARTS - timedelta(hours=1)
HOUR = timedelta(hours=1)
QUESTION = "How hard was the whole class"
MISSED = "In case you missed it"


def questions(evening: Evening, person: Person) -> list[str]:
    """The prompts and reminders that somebody got."""
    return [text for text in sent_to(evening.api, person) if QUESTION in text]


async def session_of(evening: Evening, slot: str = "2026-09-03T18:30") -> Session:
    """The class that stands for this slot of the timetable."""
    ((found,),) = evening.rows("SELECT id FROM session WHERE slot = ?", slot)
    async with evening.theatre.house.database.transaction() as tx:
        return await sessions.session(tx, str(found))


def dues(evening: Evening, slot: str) -> dict[str, tuple[object, object, object]]:
    """What is due around a class: when, whether done, whether dropped."""
    rows = evening.rows(
        """SELECT kind, at, done_at, dropped_at FROM due
        JOIN session ON session.id = session_id WHERE slot = ?""",
        slot,
    )
    return {str(kind): (at, done, dropped) for kind, at, done, dropped in rows}


async def test_digest_prompt_and_one_reminder_come_in_time_and_once(evening: Evening) -> None:
    ana, ben = evening.members["Ana"], evening.members["Ben"]
    await evening.leap(DIGEST - timedelta(seconds=30))
    assert "Side plank" not in evening.instructor.last_message.text
    await evening.leap(DIGEST)
    assert "Side plank" in evening.instructor.last_message.text
    await evening.leap(PROMPTED - timedelta(seconds=30))
    assert questions(evening, ana) == []
    await evening.leap(PROMPTED)
    assert len(questions(evening, ana)) == 1
    await evening.answer(ana, "c", 7)
    await evening.leap(REMINDED)
    assert len(questions(evening, ana)) == 1
    assert MISSED in questions(evening, ben)[1]
    since = len(evening.api.log)
    for hours in range(1, 48, 6):
        await evening.leap(REMINDED + hours * HOUR)
    assert [text for each in (ana, ben) for text in sent_to(evening.api, each, since)] == []


async def test_turning_again_and_again_changes_nothing(evening: Evening) -> None:
    await evening.class_is_over()
    since = len(evening.api.log)
    for _ in range(5):
        await evening.leap(evening.now + timedelta(seconds=15))
    assert len(evening.api.log) == since


async def test_a_reminder_may_be_answered_like_the_prompt(evening: Evening) -> None:
    ben = evening.members["Ben"]
    await evening.leap(PROMPTED)
    await evening.leap(REMINDED)
    await evening.say(ben, "6")
    assert evening.answers(ben) == {"c": 6.0}
    assert str(asked(ben.last_message)) == "e0"


async def test_nobody_is_reminded_at_night(stage: Evening) -> None:
    """A class that ends at eight in the morning would remind at ten in the evening."""
    await stage.found(plan_text(starts="2026-09-03T07:00:00"))
    (ana,) = await stage.join("Ana")
    over = datetime(2026, 9, 3, 7, 0, tzinfo=UTC)  # eight in Lisbon
    await stage.leap(over)
    assert len(questions(stage, ana)) == 1
    for hours in range(1, 23):
        await stage.leap(over + hours * HOUR + timedelta(minutes=59))
        assert len(questions(stage, ana)) == 1
    await stage.leap(datetime(2026, 9, 4, 7, 0, tzinfo=UTC))
    assert MISSED in questions(stage, ana)[1]


@pytest.mark.parametrize("wakes", ["2026-09-04T21:00:00", "2026-09-05T02:00:00"])
async def test_a_computer_that_wakes_at_night_reminds_in_the_morning(
    evening: Evening, wakes: str
) -> None:
    ana = evening.members["Ana"]
    await evening.leap(PROMPTED)
    await evening.leap(datetime.fromisoformat(wakes).replace(tzinfo=UTC))
    assert len(questions(evening, ana)) == 1
    await evening.leap(datetime(2026, 9, 5, 7, 0, tzinfo=UTC))
    assert len(questions(evening, ana)) == 2


async def test_a_process_that_slept_through_a_class_still_asks_and_reminds_a_day_later(
    evening: Evening,
) -> None:
    ana = evening.members["Ana"]
    woken = PROMPTED + 16 * HOUR
    await evening.leap(woken)
    assert len(questions(evening, ana)) == 1
    await evening.leap(woken + 2 * HOUR)
    assert len(questions(evening, ana)) == 1
    await evening.leap(woken + 23 * HOUR)
    assert MISSED in questions(evening, ana)[1]


async def test_a_process_that_wakes_at_night_asks_in_the_morning(evening: Evening) -> None:
    ana = evening.members["Ana"]
    await evening.leap(PROMPTED + 5 * HOUR)
    assert questions(evening, ana) == []
    await evening.leap(datetime(2026, 9, 4, 7, 0, tzinfo=UTC))
    assert len(questions(evening, ana)) == 1


async def test_right_after_a_late_class_people_are_asked(stage: Evening) -> None:
    await stage.found(plan_text(starts="2026-09-03T21:00:00"))
    (ana,) = await stage.join("Ana")
    await stage.leap(datetime(2026, 9, 3, 21, 0, tzinfo=UTC))
    assert len(questions(stage, ana)) == 1


async def test_what_is_too_late_to_help_is_dropped_knowingly(evening: Evening) -> None:
    ana = evening.members["Ana"]
    await evening.leap(PROMPTED + timedelta(days=3))
    assert questions(evening, ana) == []
    assert {"Side plank" in t for t in sent_to(evening.api, evening.instructor)[2:]} <= {False}
    assert all(dropped for _, _, dropped in dues(evening, "2026-09-03T18:30").values())


async def test_a_process_asleep_for_a_month_catches_up_with_what_helps(evening: Evening) -> None:
    ana = evening.members["Ana"]
    await evening.leap(PROMPTED + 4 * WEEK + HOUR)
    assert len(questions(evening, ana)) == 1
    assert "1 Oct" in questions(evening, ana)[0]


@pytest.mark.parametrize(
    ("starts", "rrule", "moments"),
    [
        (
            "2026-10-22T18:30:00",
            "FREQ=WEEKLY;BYDAY=TH",
            ["2026-10-22T17:30:00Z", "2026-10-29T18:30:00Z"],
        ),
        (
            "2027-03-25T18:30:00",
            "FREQ=WEEKLY;BYDAY=TH",
            ["2027-03-25T18:30:00Z", "2027-04-01T17:30:00Z"],
        ),
        (
            "2026-10-25T01:30:00",
            "FREQ=WEEKLY;BYDAY=SU",
            ["2026-10-25T00:30:00Z", "2026-11-01T01:30:00Z"],
        ),
        (
            "2027-03-28T01:30:00",
            "FREQ=WEEKLY;BYDAY=SU",
            ["2027-03-28T01:30:00Z", "2027-04-04T00:30:00Z"],
        ),
    ],
    ids=["autumn", "spring", "the hour that comes twice", "the hour that never comes"],
)
async def test_the_clock_change_moves_the_class_and_all_that_is_due(
    stage: Evening, starts: str, rrule: str, moments: list[str]
) -> None:
    first = datetime.fromisoformat(moments[0].replace("Z", "+00:00"))
    await stage.leap(first - timedelta(days=3))
    await stage.found(plan_text(starts=starts, rrule=rrule))
    (ana,) = await stage.join("Ana")
    stored = stage.rows("SELECT starts_at, slot FROM session ORDER BY starts_at LIMIT 2")
    assert [at for at, _ in stored] == moments
    for week, (at, slot) in enumerate(stored, start=1):
        begins = datetime.fromisoformat(str(at).replace("Z", "+00:00"))
        due = dues(stage, str(slot))
        assert due["prompt"][0] == (begins + HOUR).strftime("%Y-%m-%dT%H:%M:%SZ")
        assert due["digest"][0] == (begins - HOUR).strftime("%Y-%m-%dT%H:%M:%SZ")
        await stage.leap(begins + HOUR - timedelta(seconds=20))
        assert len(questions(stage, ana)) == week - 1
        await stage.leap(begins + HOUR)
        assert len(questions(stage, ana)) == week
        await stage.answer_all(ana)


async def test_a_cancelled_class_is_neither_announced_nor_asked_about(evening: Evening) -> None:
    session = await session_of(evening)
    async with evening.theatre.house.database.transaction() as tx:
        await rescheduling.cancel_session(tx, session.id, evening.now)
    since = len(evening.api.log)
    await evening.leap(DIGEST)
    await evening.leap(PROMPTED)
    await evening.leap(REMINDED)
    assert [e.text for e in evening.api.log[since:] if e.direction == "out"] == []
    variant = await evening.say(evening.members["Ana"], "/variant")
    assert "10 Sept" in variant.text


async def test_a_moved_class_takes_its_dues_along_and_stays_moved(evening: Evening) -> None:
    ana, session = evening.members["Ana"], await session_of(evening)
    async with evening.theatre.house.database.transaction() as tx:
        await calendar.move(tx, session, STARTS + 24 * HOUR, evening.now)
    await evening.leap(PROMPTED)
    assert questions(evening, ana) == []
    moved = await session_of(evening)
    assert moved.starts_at == STARTS + 24 * HOUR
    await evening.leap(ENDS + 24 * HOUR + timedelta(minutes=10))
    assert len(questions(evening, ana)) == 1
    assert "4 Sept" in questions(evening, ana)[0]


async def test_the_last_class_of_a_timetable_is_asked_about_and_may_be_corrected_for_long(
    stage: Evening,
) -> None:
    await stage.found(plan_text(rrule="FREQ=WEEKLY;BYDAY=TH;COUNT=1"))
    (ana,) = await stage.join("Ana")
    await stage.class_is_over()
    await stage.answer_all(ana, c=5)
    await stage.leap(PROMPTED + 3 * WEEK)
    assert "No class is planned" in (await stage.say(ana, "/variant")).text
    assert "No class is planned" in (await stage.say(stage.instructor, "/digest")).text
    summary = next(each for each in ana.messages if is_summary(each))
    await stage.press(ana, data_of(summary, ShowButton, view=View.ANSWERS), summary)
    assert [each for each in ana.messages if "Which answer" in each.text]


async def test_who_joins_while_a_class_is_on_is_not_asked_about_it(evening: Evening) -> None:
    await evening.leap(STARTS + timedelta(minutes=20))
    (late,) = await evening.join("Late")
    await evening.class_is_over()
    assert questions(evening, late) == []
    assert len(questions(evening, evening.members["Ana"])) == 1
    await evening.class_is_over(week=1)
    assert len(questions(evening, late)) == 1


async def test_who_has_left_is_neither_asked_nor_reminded(evening: Evening) -> None:
    ana, ben = evening.members["Ana"], evening.members["Ben"]
    await leave(evening, ana)
    await evening.leap(PROMPTED)
    assert questions(evening, ana) == []
    await leave(evening, ben)
    await evening.leap(REMINDED)
    assert len(questions(evening, ben)) == 1
    assert len(questions(evening, evening.members["Cleo"])) == 2


async def leave(evening: Evening, person: Person) -> None:
    """They take part no more."""
    async with evening.theatre.house.database.transaction() as tx:
        await tx.execute(
            """UPDATE membership SET left_at = '2026-09-01T00:00:00Z'
            WHERE person_id = (SELECT id FROM person WHERE account = :account)""",
            account=person.person_id,
        )
