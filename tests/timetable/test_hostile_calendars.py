"""Wrong, huge and hostile calendar files: one reason each, quickly, and never a traceback."""

from datetime import UTC, datetime, timedelta
from time import perf_counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.timetable.calendarfile import (
    BadCalendar,
    Home,
    Refusal,
    planned_between,
    problem_with,
    read_calendar,
    write_calendar,
)
from tests.timetable.files import THURSDAYS, ZONE, calendar, event, moved

HOME = Home(zone="Europe/Lisbon", minutes=45)
NOW = datetime(2026, 8, 31, 12, tzinfo=UTC)
WEEKS = timedelta(weeks=12)
LONGEST_SECONDS = 20.0
"""For the worst file, on a machine that does much else."""
MANY = ",".join(f"202609{day:02}T1830{second:02}" for day in range(1, 31) for second in range(20))


def why(text: str) -> tuple[Refusal, str] | None:
    """Why a file can't be used; None if it can."""
    try:
        problem = problem_with(read_calendar(text), HOME, NOW)
    except BadCalendar as refused:
        problem = refused
    return None if problem is None else (problem.refusal, problem.about)


def rule(text: str, start: str = "20260903T183000") -> str:
    return calendar(event("a", f"RRULE:{text}", start=f"DTSTART;TZID=Europe/Lisbon:{start}"))


NAME = "Harbour Hall strength"


@pytest.mark.parametrize(
    ("text", "refusal"),
    [
        ("", Refusal.NO_CALENDAR),
        ("hello", Refusal.NO_CALENDAR),
        ("\x00\x01\x02" * 1000, Refusal.NO_CALENDAR),
        (calendar(event())[:-20], Refusal.NO_CALENDAR),
        (calendar(event()).replace("END:VEVENT", "END:VTODO"), Refusal.NO_CALENDAR),
        ("BEGIN:VCALENDAR\r\n" * 50, Refusal.NO_CALENDAR),
        (calendar("BEGIN:VEVENT\nBEGIN:A\nBEGIN:B\nBEGIN:C\nBEGIN:D"), Refusal.NO_CALENDAR),
        (calendar(), Refusal.NO_EVENTS),
        (calendar(*(event(str(at)) for at in range(201))), Refusal.TOO_MANY),
        (calendar(event(start="")), Refusal.BROKEN),
        (calendar(event(start="DTSTART:soon")), Refusal.BROKEN),
        (calendar(event(start="DTSTART:20269903T183000")), Refusal.BROKEN),
        (calendar(event("a", *["EXDATE:20260903T173000Z"] * 300)), Refusal.BROKEN),
        (calendar(event("a", f"RDATE:{MANY},{MANY}")), Refusal.BROKEN),
        (calendar(event(start="DTSTART;VALUE=DATE:20260903", end="")), Refusal.WHOLE_DAY),
        (calendar(event(start="DTSTART:20260903", end="DURATION:P1D")), Refusal.WHOLE_DAY),
        (calendar(event("a", "RDATE;VALUE=DATE:20260905")), Refusal.WHOLE_DAY),
        (rule("FREQ=SECONDLY"), Refusal.RULE),
        (rule("FREQ=SECONDLY;BYSECOND=61"), Refusal.RULE),
        (rule("FREQ=MINUTELY;INTERVAL=90;COUNT=4"), Refusal.RULE),
        (rule("FREQ=HOURLY;INTERVAL=3;UNTIL=20260902T170000Z"), Refusal.RULE),
        (rule("FREQ=MONTHLY;BYMONTHDAY=15,30;COUNT=5"), Refusal.RULE),
        (rule("FREQ=YEARLY;BYMONTH=1"), Refusal.RULE),
        (rule("FREQ=DAILY;INTERVAL=7;BYDAY=MO"), Refusal.RULE),
        (rule("FREQ=WEEKLY;BYSETPOS=1;BYDAY=TU"), Refusal.RULE),
        (rule("FREQ=WEEKLY;COUNT=999999999999"), Refusal.RULE),
        (rule("FREQ=WEEKLY\nRRULE:FREQ=DAILY"), Refusal.RULE),
        (rule("FREQ=WEEKLY\nEXRULE:FREQ=SECONDLY"), Refusal.RULE),
        (
            calendar(
                event("a", THURSDAYS),
                event("a", "RECURRENCE-ID;RANGE=THISANDFUTURE:20260910T173000Z"),
            ),
            Refusal.RULE,
        ),
        (rule("FREQ=WEEKLY", "19970902T090000"), Refusal.TOO_FAR),
        (rule("FREQ=DAILY", "00010101T090000"), Refusal.TOO_FAR),
        (rule("FREQ=DAILY", "99991231T090000"), Refusal.TOO_FAR),
        (calendar(event(end="DURATION:PT11H")), Refusal.LENGTH),
        (calendar(event(end="DURATION:PT1M")), Refusal.LENGTH),
        (calendar(event(end="DURATION:P99999999D")), Refusal.BROKEN),
        (calendar(event(start="DTSTART;TZID=Nowhere/At all:20260903T183000")), Refusal.ZONE),
        (
            calendar(
                ZONE.replace("YEARLY", "SECONDLY"),
                event(start="DTSTART;TZID=Hall time:20260903T183000"),
            ),
            Refusal.ZONE,
        ),
        (
            calendar(
                ZONE.replace("BYDAY=-1SU", "BYMONTHDAY=31"),
                event(start="DTSTART;TZID=Hall time:20260903T183000"),
            ),
            Refusal.ZONE,
        ),
        (calendar(*[ZONE] * 30, event()), Refusal.TOO_MANY),
    ],
)
def test_each_is_refused_for_its_reason_and_quickly(text: str, refusal: Refusal) -> None:
    began = perf_counter()
    found = why(text)
    assert perf_counter() - began < LONGEST_SECONDS
    assert found is not None
    assert found[0] is refusal
    if refusal in (Refusal.WHOLE_DAY, Refusal.RULE, Refusal.TOO_FAR, Refusal.LENGTH):
        assert found[1] == NAME


def test_a_bad_event_that_is_not_chosen_is_in_nobodys_way() -> None:
    text = calendar(
        event("a", THURSDAYS),
        event("b", "RRULE:FREQ=SECONDLY", title="Blink"),
        event(start="DTSTART;VALUE=DATE:20260907", end="", title="Holiday"),
    )
    read = read_calendar(text)
    assert read.titles == (NAME, "Blink", "Holiday")
    assert problem_with(read.called(NAME), HOME, NOW) is None
    assert problem_with(read, HOME, NOW) is not None


def test_more_classes_than_anybody_has_are_refused_before_they_are_all_worked_out() -> None:
    daily = [
        event(str(at), "RRULE:FREQ=DAILY", start=f"DTSTART:20240930T{at % 24:02}{at % 60:02}00Z")
        for at in range(200)
    ]
    began = perf_counter()
    assert why(calendar(*daily)) == (Refusal.TOO_MANY, "200")
    assert perf_counter() - began < LONGEST_SECONDS


def test_two_hundred_single_events_are_taken() -> None:
    single = [
        event(str(at), start=f"DTSTART:202609{1 + at % 30:02}T{6 + at // 30:02}0000Z")
        for at in range(200)
    ]
    read = read_calendar(calendar(*single))
    assert problem_with(read, HOME, NOW) is None
    assert len(planned_between(read, HOME, NOW, NOW + WEEKS)) == 200


VALID = calendar(
    ZONE,
    event(
        "a",
        "RRULE:FREQ=WEEKLY;INTERVAL=1;BYDAY=TH;UNTIL=20261230T225959Z",
        "EXDATE;TZID=Europe/Lisbon:20260910T183000",
        "RDATE;TZID=Europe/Lisbon:20260912T100000",
        start="DTSTART;TZID=Hall time:20260903T183000",
    ),
    moved("a", "20260917T183000", "20260918T190000"),
    event("b", "STATUS:CANCELLED", title="Yoga"),
    name="Classes",
).splitlines()
NASTY = st.sampled_from(
    [
        "BEGIN:VEVENT",
        "END:VEVENT",
        "END:VCALENDAR",
        "BEGIN:VTIMEZONE",
        "RRULE:FREQ=SECONDLY",
        "RRULE:FREQ=DAILY;UNTIL=00010101T000000Z",
        "RRULE:FREQ=DAILY;UNTIL=99991231T235959",
        "RRULE:FREQ=WEEKLY;BYDAY=MO;COUNT=10000",
        "DTSTART:00000000T000000Z",
        "DTSTART;TZID=:20260903T183000",
        "DTSTART;TZID=;VALUE=PERIOD:20260903T183000/PT1H",
        "DTSTART;VALUE=PERIOD:20260903T183000Z/PT1H",
        "RDATE;VALUE=PERIOD:20260905T090000Z/PT1H,20260906T090000Z/20260906T100000Z",
        "RDATE:00010101T000000Z,99991231T235959Z",
        "EXDATE;VALUE=DATE:20260903",
        "RECURRENCE-ID;VALUE=DATE:20260903",
        "RECURRENCE-ID:20260903T173000",
        "DURATION:-PT1H",
        "DURATION:P9999999999W",
        "DTEND:20260903T170000Z",
        "DTEND;TZID=Hall time:20260903T193000",
        "SEQUENCE:many",
        "STATUS:",
        "UID:",
        'SUMMARY;LANGUAGE="x:y";ALTREP="http://a":\\n\\,\\',
        "TZOFFSETTO:+9999",
        "TZOFFSETFROM:-2400",
        "TZID:Hall time",
        "TZID:",
        ":",
        ";:",
        "X" * 20_000,
        " ",
        "\t",
    ]
)
CHANGES = st.one_of(
    st.tuples(st.just("drop"), st.integers(0, 60), st.just("")),
    st.tuples(st.just("double"), st.integers(0, 60), st.just("")),
    st.tuples(st.just("put"), st.integers(0, 60), NASTY | st.text(max_size=40)),
    st.tuples(st.just("instead"), st.integers(0, 60), NASTY | st.text(max_size=40)),
    st.tuples(st.just("value"), st.integers(0, 60), st.text(max_size=30) | st.integers().map(str)),
    st.tuples(st.just("cut"), st.integers(0, 60), st.just("")),
)


def mutated(changes: list[tuple[str, int, str]]) -> str:
    """The valid file after some accidents."""
    lines = list(VALID)
    for kind, where, text in changes:
        at = where % max(len(lines), 1)
        match kind:
            case "drop":
                del lines[at : at + 1]
            case "double":
                lines[at:at] = lines[at : at + 1]
            case "put":
                lines.insert(at, text)
            case "instead":
                lines[at : at + 1] = [text]
            case "value":
                lines[at : at + 1] = [
                    f"{line.partition(':')[0]}:{text}" for line in lines[at : at + 1]
                ]
            case _:
                lines = lines[: at + 1]
    return "\r\n".join(lines)


def test_the_file_that_the_accidents_happen_to_is_fine() -> None:
    read = read_calendar(mutated([]))
    assert problem_with(read, HOME, NOW) is None
    assert len(planned_between(read, HOME, NOW, NOW + WEEKS)) == 12


@given(st.lists(CHANGES, min_size=1, max_size=4))
@settings(max_examples=400, deadline=None)
def test_no_accident_to_a_file_is_a_traceback(changes: list[tuple[str, int, str]]) -> None:
    """Whatever is left of it is refused for a reason, or worked out and written down again."""
    text = mutated(changes)
    try:
        read = read_calendar(text)
    except BadCalendar:
        return
    if problem_with(read, HOME, NOW) is not None:
        return
    found = planned_between(read, HOME, NOW, NOW + WEEKS)
    assert all(NOW <= each.starts_at < NOW + WEEKS for each in found)
    assert len({each.starts_at for each in found}) == len(found)
    kept = read_calendar(write_calendar(read))
    assert planned_between(kept, HOME, NOW, NOW + WEEKS) == found


@given(st.text(max_size=300))
@settings(max_examples=150, deadline=None)
def test_what_is_no_calendar_is_refused(text: str) -> None:
    with pytest.raises(BadCalendar):
        read_calendar(text)
