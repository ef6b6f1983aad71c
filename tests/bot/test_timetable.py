"""Classes are found at the right moment, through both clock changes of a year."""

from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.timetable import (
    BadRule,
    SessionTime,
    Timetable,
    day_fits,
    local,
    quiet,
    read_rule,
    sessions_between,
    to_utc,
)

LISBON = "Europe/Lisbon"
SANTIAGO = "America/Santiago"
NEW_YORK = "America/New_York"
FIRST = datetime.fromisoformat("2026-01-01")
LAST = datetime.fromisoformat("2027-12-31")


def utc(year: int, month: int, day: int, hour: int = 0, minute: int = 0) -> datetime:
    return datetime(year, month, day, hour, minute, tzinfo=UTC)


def timetable(starts: str, rrule: str, zone: str = LISBON) -> Timetable:
    return Timetable(starts=datetime.fromisoformat(starts), rrule=rrule, zone=zone, minutes=50)


def starts(found: tuple[SessionTime, ...]) -> list[str]:
    return [f"{each.starts_at:%Y-%m-%d %H:%M}" for each in found]


def days(rrule: str, starts: str = "1997-09-02T09:00", weeks: int = 12) -> list[str]:
    """Local days of one of the standard's examples, most of which begin on 2 September 1997."""
    table = timetable(starts, rrule, NEW_YORK)
    first = to_utc(table.starts, NEW_YORK)
    found = sessions_between(table, first, first + timedelta(weeks=weeks))
    return [f"{each.local_day:%m-%d}" for each in found]


def test_a_weekly_class_keeps_its_local_time_when_clocks_go_back() -> None:
    """Lisbon leaves summer time (UTC+1) on Sunday 25 October 2026."""
    table = timetable("2026-09-03T18:30", "FREQ=WEEKLY;BYDAY=TH")
    found = sessions_between(table, utc(2026, 10, 20), utc(2026, 10, 31))
    assert starts(found) == ["2026-10-22 17:30", "2026-10-29 18:30"]
    assert found[0].ends_at == utc(2026, 10, 22, 18, 20)
    assert found[0].local_day == date(2026, 10, 22)


def test_a_weekly_class_keeps_its_local_time_when_clocks_go_forward() -> None:
    """Lisbon enters summer time on Sunday 28 March 2027."""
    table = timetable("2026-09-03T18:30", "FREQ=WEEKLY;BYDAY=TH")
    found = sessions_between(table, utc(2027, 3, 24), utc(2027, 4, 3))
    assert starts(found) == ["2027-03-25 18:30", "2027-04-01 17:30"]


def test_both_changes_of_a_southern_year() -> None:
    """Santiago: UTC-3 until 4 April 2026, UTC-4 until 5 September 2026, then UTC-3 again."""
    table = timetable("2026-03-02T19:00", "FREQ=WEEKLY;BYDAY=MO", SANTIAGO)
    autumn = sessions_between(table, utc(2026, 3, 30), utc(2026, 4, 8))
    spring = sessions_between(table, utc(2026, 8, 31), utc(2026, 9, 9))
    assert starts(autumn) == ["2026-03-30 22:00", "2026-04-06 23:00"]
    assert starts(spring) == ["2026-08-31 23:00", "2026-09-07 22:00"]


def test_a_local_time_that_the_change_skips_moves_forward() -> None:
    """In Lisbon 01:30 on 28 March 2027 doesn't exist: clocks go from 01:00 to 02:00."""
    table = timetable("2027-03-27T01:30", "FREQ=DAILY")
    found = sessions_between(table, utc(2027, 3, 27), utc(2027, 3, 30))
    assert starts(found) == ["2027-03-27 01:30", "2027-03-28 01:30", "2027-03-29 00:30"]
    assert local(found[1].starts_at, LISBON).strftime("%H:%M") == "02:30"


def test_a_local_time_that_comes_twice_means_the_first() -> None:
    """In Lisbon 01:30 on 25 October 2026 is 00:30 UTC and, again, 01:30 UTC."""
    assert to_utc(datetime.fromisoformat("2026-10-25T01:30"), LISBON) == utc(2026, 10, 25, 0, 30)


def test_the_day_is_the_one_on_the_wall_where_the_group_meets() -> None:
    table = timetable("2026-06-01T19:00", "FREQ=DAILY;COUNT=1", "America/Los_Angeles")
    (found,) = sessions_between(table, utc(2026, 6, 1), utc(2026, 6, 5))
    assert found.starts_at == utc(2026, 6, 2, 2, 0)
    assert found.local_day == date(2026, 6, 1)


def test_the_standards_daily_example_with_a_count() -> None:
    """RFC 5545, 3.8.5.3: daily for 10 occurrences."""
    assert days("FREQ=DAILY;COUNT=10") == [f"09-{day:02}" for day in range(2, 12)]


def test_the_standards_every_other_day_example() -> None:
    """RFC 5545, 3.8.5.3: every other day."""
    assert days("FREQ=DAILY;INTERVAL=2", weeks=1) == ["09-02", "09-04", "09-06", "09-08"]


def test_the_standards_every_ten_days_example() -> None:
    """RFC 5545, 3.8.5.3: every 10 days, 5 occurrences."""
    expected = ["09-02", "09-12", "09-22", "10-02", "10-12"]
    assert days("FREQ=DAILY;INTERVAL=10;COUNT=5") == expected


def test_the_standards_example_of_every_day_in_january() -> None:
    """RFC 5545, 3.8.5.3: every day in January, as a daily rule, until 31 January 2000."""
    found = days("FREQ=DAILY;UNTIL=20000131T140000Z;BYMONTH=1", "1998-01-01T09:00", weeks=12)
    assert found == [f"01-{day:02}" for day in range(1, 32)]


def test_the_standards_weekly_example_by_end_and_by_count() -> None:
    """RFC 5545, 3.8.5.3: weekly on Tuesday and Thursday for five weeks."""
    expected = [
        "09-02",
        "09-04",
        "09-09",
        "09-11",
        "09-16",
        "09-18",
        "09-23",
        "09-25",
        "09-30",
        "10-02",
    ]
    assert days("FREQ=WEEKLY;UNTIL=19971007T000000Z;WKST=SU;BYDAY=TU,TH") == expected
    assert days("FREQ=WEEKLY;COUNT=10;WKST=SU;BYDAY=TU,TH") == expected


def test_the_standards_example_of_what_the_first_day_of_a_week_changes() -> None:
    """RFC 5545, 3.8.5.3: every other week on Tuesday and Sunday, weeks from Monday or Sunday."""
    rule, start = "FREQ=WEEKLY;INTERVAL=2;COUNT=4;BYDAY=TU,SU;WKST=", "1997-08-05T09:00"
    assert days(rule + "MO", start) == ["08-05", "08-10", "08-19", "08-24"]
    assert days(rule + "SU", start) == ["08-05", "08-17", "08-19", "08-31"]


def test_an_end_that_is_a_bare_date_includes_that_day() -> None:
    table = timetable("2026-09-03T18:30", "FREQ=WEEKLY;UNTIL=20260917")
    found = sessions_between(table, utc(2026, 9, 1), utc(2026, 11, 1))
    assert [each.local_day.day for each in found] == [3, 10, 17]


def test_the_stretch_begins_with_its_first_moment_and_ends_before_its_last() -> None:
    table = timetable("2026-09-03T18:30", "FREQ=WEEKLY")
    found = sessions_between(table, utc(2026, 9, 3, 17, 30), utc(2026, 9, 10, 17, 30))
    assert starts(found) == ["2026-09-03 17:30"]


def test_no_more_than_twelve_weeks_are_worked_out_at_once() -> None:
    table = timetable("2026-01-01T18:30", "FREQ=DAILY")
    assert len(sessions_between(table, utc(2026, 1, 1), utc(2036, 1, 1))) == 84


def test_a_rule_that_never_meets_a_day_ends_all_the_same() -> None:
    table = timetable("2026-09-01T18:30", "FREQ=DAILY;INTERVAL=7;BYDAY=MO")
    assert sessions_between(table, utc(2026, 9, 1), utc(2026, 12, 1)) == ()


@pytest.mark.parametrize(
    ("rule", "part"),
    [
        ("FREQ=SECONDLY", "FREQ=SECONDLY"),
        ("FREQ=MONTHLY;BYDAY=MO", "FREQ=MONTHLY"),
        ("BYDAY=MO", "FREQ="),
        ("", ""),
        ("FREQ=DAILY;BYHOUR=1,2,3", "BYHOUR=1,2,3"),
        ("FREQ=WEEKLY;BYDAY=1MO", "BYDAY=1MO"),
        ("FREQ=WEEKLY;INTERVAL=0", "INTERVAL=0"),
        ("FREQ=WEEKLY;INTERVAL=99999999", "INTERVAL=99999999"),
        ("FREQ=WEEKLY;COUNT=2;UNTIL=20261224", "COUNT with UNTIL"),
        ("FREQ=WEEKLY;UNTIL=soon", "UNTIL=SOON"),
        ("FREQ=WEEKLY;FREQ=DAILY", "FREQ=DAILY"),
        ("FREQ=WEEKLY;BYMONTH=13", "BYMONTH=13"),
        ("FREQ=WEEKLY;WKST=X", "WKST=X"),
    ],
)
def test_a_rule_we_do_not_take_is_named(rule: str, part: str) -> None:
    with pytest.raises(BadRule) as refused:
        read_rule(rule)
    assert refused.value.part == part


def test_a_rule_may_carry_its_own_name_and_small_letters() -> None:
    assert read_rule("RRULE:freq=weekly;byday=th") == read_rule("FREQ=WEEKLY;BYDAY=TH")


def test_the_first_session_has_to_be_a_day_of_its_rule() -> None:
    thursday = datetime.fromisoformat("2026-09-03T18:30")
    assert day_fits(thursday, read_rule("FREQ=WEEKLY;BYDAY=TU,TH"))
    assert day_fits(thursday, read_rule("FREQ=WEEKLY"))
    assert not day_fits(thursday, read_rule("FREQ=WEEKLY;BYDAY=FR"))
    assert not day_fits(thursday, read_rule("FREQ=DAILY;BYMONTH=10"))


@pytest.mark.parametrize(
    ("moment", "allowed"),
    [
        (utc(2026, 7, 1, 20, 29), utc(2026, 7, 1, 20, 29)),
        (utc(2026, 7, 1, 20, 30), utc(2026, 7, 2, 7, 0)),
        (utc(2026, 7, 2, 6, 59), utc(2026, 7, 2, 7, 0)),
        (utc(2026, 7, 2, 7, 0), utc(2026, 7, 2, 7, 0)),
        (utc(2026, 10, 24, 21, 0), utc(2026, 10, 25, 8, 0)),
    ],
)
def test_reminders_wait_for_the_morning(moment: datetime, allowed: datetime) -> None:
    """Lisbon, 21:30 to 08:00; the last night is the one in which clocks go back."""
    assert quiet(moment, LISBON) == allowed


@given(
    st.datetimes(FIRST, LAST, timezones=st.just(UTC)),
    st.sampled_from([LISBON, SANTIAGO, NEW_YORK, "Asia/Kathmandu"]),
)
def test_a_reminder_never_goes_out_at_night_and_never_waits_half_a_day(
    moment: datetime, zone: str
) -> None:
    allowed = quiet(moment, zone)
    assert "08:00" <= local(allowed, zone).strftime("%H:%M") < "21:30"
    assert timedelta() <= allowed - moment <= timedelta(hours=11, minutes=30)
