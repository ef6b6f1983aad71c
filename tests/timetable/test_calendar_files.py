"""Calendar files are read as RFC 5545 means them, and as another program works them out."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from dateutil.rrule import rrulestr
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.timetable import Timetable, sessions_between, to_utc
from bot.timetable.calendarfile import (
    Home,
    planned_between,
    problem_with,
    read_calendar,
    write_calendar,
)
from tests.timetable.files import THURSDAYS, ZONE, calendar, event, moved

LISBON, NEW_YORK = "Europe/Lisbon", "America/New_York"
HOME = Home(zone=LISBON, minutes=45)
NOW = datetime(2026, 8, 31, 12, tzinfo=UTC)
WEEK = timedelta(weeks=1)
WEEKS = 12


def starts(text: str, first: datetime = NOW, weeks: int = WEEKS, home: Home = HOME) -> list[str]:
    """Starts and lengths of the planned classes, in UTC."""
    found = planned_between(read_calendar(text), home, first, first + weeks * WEEK)
    return [f"{each.starts_at:%m-%d %H:%M}" for each in found]


def example(rule: str, start: str = "19970902T090000") -> list[str]:
    """Local days of one of the standard's examples, which are at nine in New York, to the end."""
    text = calendar(event("x", f"RRULE:{rule}", start=f"DTSTART;TZID={NEW_YORK}:{start}"))
    read, days = read_calendar(text), []
    home = Home(zone=NEW_YORK, minutes=50)
    first = datetime(1997, 8, 1, tzinfo=UTC)
    while first < datetime(1998, 1, 1, tzinfo=UTC):
        found = planned_between(read, home, first, first + WEEKS * WEEK)
        for each in found:
            wall = each.starts_at.astimezone(ZoneInfo(NEW_YORK))
            assert (wall.hour, wall.minute) == (9, 0), "whatever clocks do in October"
            days.append(f"{wall:%m-%d}")
        first += WEEKS * WEEK
    return days


def dates(*months: tuple[int, tuple[int, ...]]) -> list[str]:
    return [f"{month:02}-{day:02}" for month, of_month in months for day in of_month]


def test_rfc_5545_3_8_5_3_daily_for_10_occurrences() -> None:
    assert example("FREQ=DAILY;COUNT=10") == dates((9, tuple(range(2, 12))))


def test_rfc_5545_3_8_5_3_daily_until_24_december() -> None:
    found = example("FREQ=DAILY;UNTIL=19971224T000000Z")
    assert (found[0], found[-1], len(found)) == ("09-02", "12-23", 113)


def test_rfc_5545_3_8_5_3_every_other_day() -> None:
    assert example("FREQ=DAILY;INTERVAL=2")[:16] == dates((9, tuple(range(2, 31, 2))), (10, (2,)))


def test_rfc_5545_3_8_5_3_every_10_days_5_occurrences() -> None:
    assert example("FREQ=DAILY;INTERVAL=10;COUNT=5") == dates((9, (2, 12, 22)), (10, (2, 12)))


def test_rfc_5545_3_8_5_3_weekly_for_10_occurrences() -> None:
    expected = dates((9, (2, 9, 16, 23, 30)), (10, (7, 14, 21, 28)), (11, (4,)))
    assert example("FREQ=WEEKLY;COUNT=10") == expected


def test_rfc_5545_3_8_5_3_weekly_until_24_december() -> None:
    expected = dates(
        (9, (2, 9, 16, 23, 30)), (10, (7, 14, 21, 28)), (11, (4, 11, 18, 25)), (12, (2, 9, 16, 23))
    )
    assert example("FREQ=WEEKLY;UNTIL=19971224T000000Z") == expected


def test_rfc_5545_3_8_5_3_every_other_week() -> None:
    expected = dates((9, (2, 16, 30)), (10, (14, 28)), (11, (11, 25)), (12, (9, 23)))
    assert example("FREQ=WEEKLY;INTERVAL=2;WKST=SU")[:9] == expected


def test_rfc_5545_3_8_5_3_tuesday_and_thursday_for_five_weeks() -> None:
    expected = dates((9, (2, 4, 9, 11, 16, 18, 23, 25, 30)), (10, (2,)))
    assert example("FREQ=WEEKLY;UNTIL=19971007T000000Z;WKST=SU;BYDAY=TU,TH") == expected
    assert example("FREQ=WEEKLY;COUNT=10;WKST=SU;BYDAY=TU,TH") == expected


def test_rfc_5545_3_8_5_3_every_other_week_on_three_days_until_24_december() -> None:
    rule = "FREQ=WEEKLY;INTERVAL=2;UNTIL=19971224T000000Z;WKST=SU;BYDAY=MO,WE,FR"
    assert example(rule, "19970901T090000") == dates(
        (9, (1, 3, 5, 15, 17, 19, 29)),
        (10, (1, 3, 13, 15, 17, 27, 29, 31)),
        (11, (10, 12, 14, 24, 26, 28)),
        (12, (8, 10, 12, 22)),
    )


def test_rfc_5545_3_8_5_3_every_other_week_on_two_days_for_8_occurrences() -> None:
    expected = dates((9, (2, 4, 16, 18, 30)), (10, (2, 14, 16)))
    assert example("FREQ=WEEKLY;INTERVAL=2;COUNT=8;WKST=SU;BYDAY=TU,TH") == expected


def test_rfc_5545_3_8_5_3_what_the_first_day_of_a_week_changes() -> None:
    rule = "FREQ=WEEKLY;INTERVAL=2;COUNT=4;BYDAY=TU,SU;WKST="
    assert example(rule + "MO", "19970805T090000") == dates((8, (5, 10, 19, 24)))
    assert example(rule + "SU", "19970805T090000") == dates((8, (5, 17, 19, 31)))


DAYS = ("MO", "TU", "WE", "TH", "FR", "SA", "SU")


@given(
    freq=st.sampled_from(["WEEKLY", "DAILY"]),
    interval=st.integers(1, 9),
    days=st.sets(st.integers(0, 6)),
    wkst=st.sampled_from(["MO", "SU"]),
    count=st.none() | st.integers(1, 40),
    start=st.datetimes(datetime(2026, 8, 1), datetime(2026, 11, 20)),  # noqa: DTZ001  (local)
    zone=st.sampled_from([LISBON, NEW_YORK, "America/Santiago", "Asia/Kathmandu"]),
)
@settings(max_examples=60, deadline=None)
def test_rules_mean_what_two_other_ways_to_work_them_out_say(
    freq: str,
    interval: int,
    days: set[int],
    wkst: str,
    count: int | None,
    start: datetime,
    zone: str,
) -> None:
    """By python-dateutil on the wall, and by the way of plan files, through clock changes."""
    start = start.replace(second=0, microsecond=0)
    days = {*days, start.weekday()} if days else days
    rule = f"FREQ={freq};INTERVAL={interval};WKST={wkst}"
    rule += f";BYDAY={','.join(DAYS[day] for day in sorted(days))}" if days else ""
    rule += "" if count is None else f";COUNT={count}"
    text = calendar(event("x", f"RRULE:{rule}", start=f"DTSTART;TZID={zone}:{start:%Y%m%dT%H%M%S}"))
    first = datetime(2026, 9, 20, tzinfo=UTC)
    last = first + WEEKS * WEEK
    found = planned_between(read_calendar(text), Home(zone=zone, minutes=50), first, last)
    ours = [each.starts_at for each in found]
    on_the_wall = rrulestr(rule, dtstart=start).between(start, datetime(2027, 1, 1), inc=True)  # noqa: DTZ001
    assert ours == [at for wall in on_the_wall if first <= (at := to_utc(wall, zone)) < last]
    table = Timetable(starts=start, rrule=rule, zone=zone, minutes=50)
    assert ours == [each.starts_at for each in sessions_between(table, first, last)]


def test_days_are_left_out_added_moved_and_cancelled() -> None:
    text = calendar(
        event(
            "a",
            THURSDAYS,
            "EXDATE;TZID=Europe/Lisbon:20260910T183000,20260917T183000",
            "EXDATE:20260924T173000Z",
            "RDATE;TZID=Europe/Lisbon:20260912T100000",
        ),
        moved("a", "20261001T183000", "20261002T190000"),
        moved("a", "20261008T183000", "20261008T183000", "STATUS:CANCELLED"),
    )
    assert starts(text)[:4] == ["09-03 17:30", "09-12 09:00", "10-02 18:00", "10-15 17:30"]


def test_a_moved_day_stays_the_same_class_wherever_it_goes() -> None:
    before = calendar(event("a", THURSDAYS))
    after = calendar(event("a", THURSDAYS), moved("a", "20260910T183000", "20260913T100000"))
    first, second = (
        planned_between(read_calendar(text), HOME, NOW, NOW + 3 * WEEK) for text in (before, after)
    )
    assert {each.event for each in first} == {each.event for each in second}
    changed = next(each for each in second if each.event == first[1].event)
    assert changed.slot == first[1].slot
    assert f"{changed.starts_at:%m-%d %H:%M}" == "09-13 09:00"
    assert changed.local_day.day == 13


def test_a_day_may_be_moved_into_the_weeks_ahead_and_out_of_them() -> None:
    text = calendar(
        event("a", "RRULE:FREQ=WEEKLY", start="DTSTART;TZID=Europe/Lisbon:20260827T183000"),
        moved("a", "20260827T183000", "20260902T183000"),
        moved("a", "20260903T183000", "20261230T183000"),
    )
    assert starts(text)[:2] == ["09-02 17:30", "09-10 17:30"]


@pytest.mark.parametrize(
    ("start", "expected"),
    [
        ("DTSTART;TZID=Europe/Lisbon:20261022T183000", ["10-22 17:30", "10-29 18:30"]),
        ("DTSTART:20261022T173000Z", ["10-22 17:30", "10-29 17:30"]),
        ("DTSTART:20261022T183000", ["10-22 17:30", "10-29 18:30"]),
        ("DTSTART;TZID=Hall time:20261022T183000", ["10-22 17:30", "10-29 18:30"]),
        ('DTSTART;TZID="GMT Standard Time":20261022T183000', ["10-22 17:30", "10-29 18:30"]),
        (
            "DTSTART;TZID=/vendor.example/Europe/Lisbon:20261022T183000",
            ["10-22 17:30", "10-29 18:30"],
        ),
        ("dtstart;tzid=America/New_York:20261022T133000", ["10-22 17:30", "10-29 17:30"]),
    ],
    ids=["zone", "UTC", "floating", "own", "another system's", "vendor's", "far away"],
)
def test_times_are_in_the_zone_that_they_name_through_the_clock_change(
    start: str, expected: list[str]
) -> None:
    text = calendar(ZONE, event("a", "RRULE:FREQ=WEEKLY;COUNT=2", start=start))
    assert starts(text) == expected


def test_a_zone_of_one_file_is_not_that_of_the_next() -> None:
    other = ZONE.replace("+0100", "+0900").replace("+0000", "+0800")
    for zone, expected in ((ZONE, "09-03 17:30"), (other, "09-03 09:30"), (ZONE, "09-03 17:30")):
        text = calendar(zone, event(start="DTSTART;TZID=Hall time:20260903T183000"))
        assert starts(text) == [expected]


@pytest.mark.parametrize(
    ("end", "minutes"),
    [
        ("DURATION:PT1H15M", 75),
        ("DTEND;TZID=Europe/Lisbon:20260903T200000", 90),
        ("DTEND:20260903T184000Z", 70),
        ("", 45),
    ],
    ids=["duration", "end", "end in another zone", "the group's own"],
)
def test_a_class_is_as_long_as_it_says(end: str, minutes: int) -> None:
    (found,) = planned_between(read_calendar(calendar(event(end=end))), HOME, NOW, NOW + WEEK)
    assert found.ends_at - found.starts_at == timedelta(minutes=minutes)


def test_an_end_by_a_bare_date_includes_that_day_where_the_class_is() -> None:
    start = "DTSTART;TZID=America/New_York:20260903T223000"  # on the 4th in UTC
    text = calendar(event("a", "RRULE:FREQ=WEEKLY;UNTIL=20260917", start=start))
    assert starts(text) == ["09-04 02:30", "09-11 02:30", "09-18 02:30"]


def test_two_events_at_the_same_time_are_one_class() -> None:
    text = calendar(event("a", THURSDAYS), event("b"))
    assert starts(text)[:2] == ["09-03 17:30", "09-10 17:30"]


def test_a_cancelled_event_is_no_class() -> None:
    assert starts(calendar(event("a", THURSDAYS, "STATUS:CANCELLED"))) == []


def test_long_lines_are_folded_and_names_escaped() -> None:
    text = calendar(event(title="Yoga\\, slow\\; and \\n long " + "x" * 30))
    folded = text.replace("slow", "sl\r\n ow").replace("183000", "18\r\n\t3000")
    assert read_calendar(folded).titles == read_calendar(text).titles
    assert read_calendar(text).titles[0].startswith("Yoga, slow; and long")
    assert starts(folded) == starts(text)


def test_what_is_kept_of_a_file_says_when_classes_are_and_nothing_else() -> None:
    text = calendar(
        ZONE,
        event(
            "a",
            THURSDAYS,
            "ORGANIZER;CN=Ines:mailto:ines@example.org",
            "ATTENDEE;CN=Ana:mailto:ana@example.org",
            "DESCRIPTION:Bring a mat",
            "LOCATION:Harbour Hall",
            "ATTACH:https://example.org/secret",
            "BEGIN:VALARM\nACTION:DISPLAY\nTRIGGER:-PT15M\nDESCRIPTION:Soon\nEND:VALARM",
            start="DTSTART;TZID=Hall time:20260903T183000",
        ),
        "BEGIN:VTODO\nUID:t\nSUMMARY:Buy mats\nEND:VTODO",
    )
    kept = write_calendar(read_calendar(text))
    assert starts(kept) == starts(text)
    assert len(starts(kept)) == WEEKS
    for word in ("example.org", "mat", "Hall,", "ALARM", "Ana", "Ines", "VTODO"):
        assert word not in kept, word
    assert write_calendar(read_calendar(kept)) == kept
    assert problem_with(read_calendar(kept), HOME, NOW) is None
