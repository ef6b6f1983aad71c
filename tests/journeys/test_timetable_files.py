"""A timetable taken from a calendar file: shown first, followed for months, never doubled."""

from datetime import timedelta

import pytest

from bot.buttons import CalendarButton, Deed, ReplaceButton, SessionButton
from demo_script.stand_in import Message, Person
from tests.journeys.evening import PROMPTED, STARTS, WEEK, Evening, buttons, data_of, sent_to
from tests.journeys.plans import plan_text
from tests.timetable.files import THURSDAYS, calendar, event, moved

DAY, HOUR = timedelta(days=1), timedelta(hours=1)
NAME = "Harbour Hall strength"
SAME = calendar(event("a", THURSDAYS))
"""What the plan's own rule says, as a calendar."""


async def send(
    evening: Evening, text: str, by: Person | None = None, caption: str = "", name: str = "c.ics"
) -> Message:
    """Somebody sends a calendar; what the bot says to it."""
    person = by or evening.instructor
    person.send_document(name, text.encode(), caption)
    await evening.settle()
    return person.last_message


async def follow(evening: Evening, text: str) -> Message:
    """The instructor sends a calendar, and says yes to what it changes."""
    said = await send(evening, text)
    await evening.press(evening.instructor, data_of(said, CalendarButton, yes=True))
    return evening.instructor.last_message


def classes(evening: Evening, most: int = 4) -> list[object]:
    """Starts of the classes that take place, in UTC."""
    rows = evening.rows(
        "SELECT starts_at FROM session WHERE cancelled_at IS NULL ORDER BY starts_at LIMIT ?", most
    )
    return [at for (at,) in rows]


def prompts(evening: Evening, person: Person) -> int:
    """How often somebody was asked."""
    return sum("How hard was the whole class" in text for text in sent_to(evening.api, person))


async def test_what_would_change_is_shown_and_one_press_lets_it(evening: Evening) -> None:
    before = evening.dump()
    said = await send(
        evening,
        calendar(
            event("a", THURSDAYS, "EXDATE;TZID=Europe/Lisbon:20260917T183000"),
            moved("a", "20260910T183000", "20260911T190000"),
            event("b", start="DTSTART;TZID=Europe/Lisbon:20260905T100000"),
        ),
    )
    assert said.text.splitlines() == [
        "What this calendar changes for Harbour Hall strength:",
        "• 1 new class: Sat 5 Sept, 10:00",
        "• 1 class at another time: Thu 10 Sept, 18:30 → Fri 11 Sept, 19:00",
        "• 1 class no longer takes place: Thu 17 Sept, 18:30",
        "",
        "From then on your classes follow it, also those that come later.",
    ]
    assert evening.dump("calendar_upload") == {
        name: rows for name, rows in before.items() if name != "calendar_upload"
    }
    await evening.press(evening.instructor, data_of(said, CalendarButton, yes=True))
    assert "follows this calendar now" in evening.instructor.last_message.text
    assert classes(evening) == [
        "2026-09-03T17:30:00Z",
        "2026-09-05T09:00:00Z",
        "2026-09-11T18:00:00Z",
        "2026-09-24T17:30:00Z",
    ]
    assert evening.rows("SELECT * FROM calendar_upload") == []


async def test_no_leaves_all_as_it_is(evening: Evening) -> None:
    before = evening.dump()
    said = await send(evening, calendar(event("a", "RRULE:FREQ=DAILY")))
    await evening.press(evening.instructor, data_of(said, CalendarButton, yes=False))
    assert "stays as it is" in evening.instructor.last_message.text
    assert evening.dump() == before


async def test_the_same_calendar_again_changes_nothing_and_an_edited_one_only_what_differs(
    evening: Evening,
) -> None:
    await follow(evening, SAME)
    before = evening.dump()
    assert "follow this calendar already" in (await send(evening, SAME)).text
    assert evening.dump() == before
    ids = evening.rows("SELECT id FROM session ORDER BY starts_at")
    await follow(
        evening, calendar(event("a", THURSDAYS), moved("a", "20260903T183000", "20260904T183000"))
    )
    assert evening.rows("SELECT id FROM session ORDER BY starts_at") == ids
    assert classes(evening, 2) == ["2026-09-04T17:30:00Z", "2026-09-10T17:30:00Z"]
    await follow(evening, SAME)
    assert evening.rows("SELECT id FROM session ORDER BY starts_at") == ids
    assert classes(evening, 2) == ["2026-09-03T17:30:00Z", "2026-09-10T17:30:00Z"]


@pytest.mark.long
async def test_members_are_asked_when_the_calendar_says_and_the_window_rolls_on(
    evening: Evening,
) -> None:
    """Every other week for half a year: what nobody could see at first is planned in time."""
    ana = evening.members["Ana"]
    await follow(evening, calendar(event("a", "RRULE:FREQ=WEEKLY;INTERVAL=2;BYDAY=TH")))
    ((first,),) = evening.rows("SELECT count(*) FROM session")
    assert first == 6
    asked = 0
    for week in range(26):
        await evening.leap(STARTS + week * WEEK - 2 * HOUR)
        await evening.leap(PROMPTED + week * WEEK + (HOUR if week >= 8 else timedelta()))
        asked += week % 2 == 0
        assert prompts(evening, ana) == asked, week
        if week % 2 == 0:
            await evening.answer_all(ana)
    ((last,),) = evening.rows("SELECT max(starts_at) FROM session")
    assert str(last) > "2027-04-01"


async def test_a_class_moved_in_the_calendar_after_its_digest_is_announced_anew(
    evening: Evening,
) -> None:
    await follow(evening, SAME)
    await evening.leap(STARTS - HOUR)
    digests = [t for t in sent_to(evening.api, evening.instructor) if "Side plank" in t]
    await follow(
        evening, calendar(event("a", THURSDAYS), moved("a", "20260903T183000", "20260904T183000"))
    )
    assert "4 Sept" in (await evening.say(evening.members["Ana"], "/variant")).text
    await evening.leap(STARTS + DAY - HOUR)
    again = [t for t in sent_to(evening.api, evening.instructor) if "Side plank" in t]
    assert len(again) > len(digests)
    await evening.leap(PROMPTED)
    assert prompts(evening, evening.members["Ana"]) == 0
    await evening.leap(PROMPTED + DAY)
    assert prompts(evening, evening.members["Ana"]) == 1


async def test_a_class_that_the_calendar_takes_back_after_its_digest_is_cancelled_not_erased(
    evening: Evening,
) -> None:
    await follow(evening, SAME)
    await evening.leap(STARTS - HOUR)
    without = calendar(event("a", THURSDAYS, "EXDATE;TZID=Europe/Lisbon:20260903T183000"))
    await follow(evening, without)
    assert evening.rows("SELECT count(*) FROM session WHERE slot = '2026-09-03T18:30'") == [(1,)]
    await evening.leap(PROMPTED)
    assert prompts(evening, evening.members["Ana"]) == 0
    assert "10 Sept" in (await evening.say(evening.members["Ana"], "/variant")).text


async def test_what_was_changed_in_chat_stays_and_is_told(evening: Evening) -> None:
    await follow(evening, SAME)
    listed = await evening.say(evening.instructor, "/classes")
    assert "follow the calendar file" in listed.text
    await evening.press(evening.instructor, data_of(listed, SessionButton, at=STARTS))
    for deed in (Deed.CANCEL, Deed.CANCELLED):
        said = evening.instructor.last_message
        await evening.press(evening.instructor, data_of(said, SessionButton, deed=deed))
    said = await send(evening, calendar(event("a", "RRULE:FREQ=WEEKLY;BYDAY=TH;COUNT=20")))
    assert "• 1 class stays as you changed it in /classes: Thu 3 Sept, 18:30" in said.text
    await evening.press(evening.instructor, data_of(said, CalendarButton, yes=True))
    assert classes(evening, 1) == ["2026-09-10T17:30:00Z"]
    await evening.leap(evening.now + DAY)
    assert classes(evening, 1) == ["2026-09-10T17:30:00Z"]


async def test_other_times_in_a_plan_file_are_the_newer_word(evening: Evening) -> None:
    await follow(evening, calendar(event("a", "RRULE:FREQ=WEEKLY;BYDAY=TH,SA")))
    assert classes(evening, 2) == ["2026-09-03T17:30:00Z", "2026-09-05T17:30:00Z"]
    same_times = await evening.upload(plan_text(minutes=45, more="target = 6.0"))
    await evening.press(
        evening.instructor, data_of(same_times, ReplaceButton, yes=True, once=False)
    )
    assert classes(evening, 2) == ["2026-09-03T17:30:00Z", "2026-09-05T17:30:00Z"]
    other_times = await evening.upload(plan_text(rrule="FREQ=WEEKLY;BYDAY=TH,MO"))
    await evening.press(
        evening.instructor, data_of(other_times, ReplaceButton, yes=True, once=False)
    )
    assert classes(evening, 2) == ["2026-09-03T17:30:00Z", "2026-09-07T17:30:00Z"]


# --- whose it is, and what of it ---------------------------------------------------------------


MANY = calendar(
    event("a", THURSDAYS, title="Strength"),
    event("b", "RRULE:FREQ=DAILY", title="Lunch"),
    event("c", "RRULE:FREQ=MONTHLY", title="Rent", start="DTSTART;VALUE=DATE:20260901", end=""),
)


async def test_the_events_of_the_group_are_known_by_its_name(evening: Evening) -> None:
    said = await send(evening, MANY.replace("SUMMARY:Strength", f"SUMMARY:{NAME.upper()}"))
    assert "No class of the coming twelve weeks changes" in said.text


async def test_else_it_is_asked_which_they_are_and_remembered(evening: Evening) -> None:
    asking = await send(evening, MANY.replace("Strength", "Evening class"))
    assert "Which of these events" in asking.text
    labels = [label for row in asking.labels for label in row]
    assert labels == ["Evening class", "Lunch", "Rent", "All of them", "No, change nothing"]
    await evening.press(evening.instructor, data_of(asking, CalendarButton, event=0))
    said = evening.instructor.last_message
    await evening.press(evening.instructor, data_of(said, CalendarButton, yes=True))
    again = await send(evening, MANY.replace("Strength", "Evening class"))
    assert "follow this calendar already" in again.text


async def test_events_that_no_class_can_be_are_refused_by_name(evening: Evening) -> None:
    asking = await send(evening, MANY.replace("Strength", "Evening class"))
    before = evening.dump("calendar_upload")
    await evening.press(evening.instructor, data_of(asking, CalendarButton, event=2))
    assert "The event Rent takes whole days." in evening.instructor.last_message.text
    assert evening.dump("calendar_upload") == before
    assert evening.rows("SELECT * FROM calendar_upload") == []


async def test_who_leads_several_groups_is_asked_for_which_it_is(evening: Evening) -> None:
    await evening.upload(plan_text("Tide Room yoga"))
    asking = await send(evening, calendar(event("a", THURSDAYS, title="Evening class")))
    assert asking.text == "Which group is this calendar for?"
    ((tide,),) = evening.rows("SELECT id FROM training_group WHERE name = 'Tide Room yoga'")
    await evening.press(evening.instructor, data_of(asking, CalendarButton, group=tide))
    assert "for Tide Room yoga:" in evening.instructor.last_message.text
    named = await send(evening, calendar(event("a", THURSDAYS)), caption="tide room yoga")
    assert "for Tide Room yoga:" in named.text
    titled = await send(evening, calendar(event("a", THURSDAYS)))
    assert f"for {NAME}:" in titled.text


async def test_a_co_instructor_hears_of_the_new_timetable(evening: Evening) -> None:
    other = evening.members["Cleo"]
    async with evening.theatre.house.database.transaction() as tx:
        await tx.execute(
            """INSERT INTO leading (group_id, person_id, since)
            SELECT training_group.id, person.id, met_at FROM training_group, person
            WHERE account = :account""",
            account=other.person_id,
        )
    await follow(evening, calendar(event("a", "RRULE:FREQ=WEEKLY;BYDAY=TH,SA")))
    assert "Ines has put in another timetable for Harbour Hall strength." in other.last_message.text
    assert "• 12 new classes: Sat 5 Sept, 18:30" in other.last_message.text


# --- wrong files, wrong hands ------------------------------------------------------------------


@pytest.mark.parametrize(
    ("content", "told"),
    [
        (b"\r\n", "can't read that file as a calendar"),
        (b"\xff\xfe\x00", "can't read that file as text"),
        (b"BEGIN:VCALENDAR\r\n" + b"x" * 300_000, "larger than 256 KB"),
        (SAME.encode()[:-30], "can't read that file as a calendar"),
        (calendar().encode(), "no event in that calendar"),
        (calendar(event("a", "RRULE:FREQ=SECONDLY")).encode(), "repeats in a way"),
        (calendar(event(start="DTSTART;VALUE=DATE:20260903", end="")).encode(), "whole days"),
        (calendar(event(start="DTSTART:20200903T173000Z")).encode(), "more than two years ago"),
        (calendar(event(start="DTSTART:20260803T173000Z")).encode(), "is in the coming twelve"),
        (calendar(*(event(str(at)) for at in range(201))).encode(), "more than 200 events"),
        (calendar(event(title="<b>&{about}", end="DURATION:P3D")).encode(), "<b>&{about}"),
    ],
    ids=[
        "empty",
        "binary",
        "huge",
        "torn",
        "no events",
        "each second",
        "whole day",
        "old",
        "past",
        "many",
        "nasty name",
    ],
)
async def test_a_file_that_is_no_timetable_gets_one_clear_message(
    evening: Evening, content: bytes, told: str
) -> None:
    before, since = evening.dump(), len(evening.api.log)
    evening.instructor.send_document("classes.ICS", content)
    await evening.settle()
    said = sent_to(evening.api, evening.instructor, since)
    assert len(said) == 1
    assert told in said[0]
    assert "Nothing was changed" in said[0] or "nothing was changed" in said[0]
    assert evening.dump() == before


async def test_a_calendar_may_come_under_a_plan_files_name(evening: Evening) -> None:
    said = await send(evening, SAME, name="plan.toml")
    assert "What this calendar changes" in said.text


async def test_a_calendar_is_only_taken_from_whoever_leads_a_group(stage: Evening) -> None:
    await stage.claim()
    assert "set up the group first" in (await send(stage, SAME)).text
    await stage.upload(plan_text())
    (ana,) = await stage.join("Ana")
    before = stage.dump()
    assert "only take files from an instructor" in (await send(stage, SAME, by=ana)).text
    assert stage.dump() == before


async def test_the_buttons_under_a_calendar_are_for_its_sender_and_once(evening: Evening) -> None:
    said = await send(evening, calendar(event("a", "RRULE:FREQ=DAILY")))
    yes = data_of(said, CalendarButton, yes=True)
    before = evening.dump()
    stranger, ana = evening.api.person("Stranger"), evening.members["Ana"]
    stranger.press_start()
    await evening.settle()
    for person in (stranger, ana):
        press = person.press_raw(1, yes)
        await evening.settle()
        assert press.answer is not None
        assert press.answer.text == "This button is no longer in use."
    assert evening.dump() == before
    first, second = (evening.instructor.press(said, yes) for _ in range(2))
    await evening.settle()
    assert first.answer is not None
    assert second.answer is not None
    assert second.answer.text == "This button is no longer in use."
    assert buttons(evening.instructor.last_message) == []
    assert evening.rows("SELECT count(*) FROM calendar") == [(1,)]


async def test_a_newer_file_takes_the_place_of_one_that_waits(evening: Evening) -> None:
    old = await send(evening, calendar(event("a", "RRULE:FREQ=DAILY")))
    await send(evening, calendar(event("a", "RRULE:FREQ=WEEKLY;BYDAY=TH,SA")))
    press = evening.instructor.press(old, data_of(old, CalendarButton, yes=True))
    await evening.settle()
    assert press.answer is not None
    assert press.answer.text == "This button is no longer in use."
    await evening.leap(evening.now + 2 * DAY)
    assert evening.rows("SELECT * FROM calendar_upload") == []


async def test_an_instructor_who_no_longer_leads_changes_nothing(evening: Evening) -> None:
    said = await send(evening, calendar(event("a", "RRULE:FREQ=DAILY")))
    async with evening.theatre.house.database.transaction() as tx:
        await tx.execute("DELETE FROM leading")
    before = evening.dump()
    press = evening.instructor.press(said, data_of(said, CalendarButton, yes=True))
    await evening.settle()
    assert press.answer is not None
    assert press.answer.text == "This button doesn't work for you."
    assert evening.dump() == before
