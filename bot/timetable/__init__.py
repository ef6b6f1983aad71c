"""When a group meets: a recurrence rule in local time, worked out to moments in UTC."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from functools import cache
from itertools import islice, takewhile
from zoneinfo import ZoneInfo, available_timezones

from dateutil.rrule import WEEKLY, rrule, weekday

from bot.timetable.rule import BadRule, Rule, day_fits, read_rule

__all__ = [
    "BadRule",
    "Rule",
    "SessionTime",
    "Timetable",
    "day_fits",
    "is_zone",
    "local",
    "next_session",
    "quiet",
    "read_rule",
    "sessions_between",
    "to_utc",
]

WINDOW = timedelta(weeks=12)
"""Longest stretch worked out at once; more is asked for again later."""
YEAR_OF_WINDOWS = 5
MOST_SESSIONS = 200
"""In one answer. A daily class has 84 in the window, so only a mistake gets there."""
QUIET_FROM = time(21, 30)
QUIET_UNTIL = time(8, 0)
"""Local hours in which nobody is reminded of anything."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Timetable:
    """When a group meets, as people say it."""

    starts: datetime
    """First session, local, without an offset."""
    rrule: str
    """RFC 5545, WEEKLY or DAILY."""
    zone: str
    """IANA name."""
    minutes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class SessionTime:
    """One session of a timetable."""

    starts_at: datetime
    """UTC."""
    ends_at: datetime
    """UTC."""
    local_day: date
    """Day on the timetable, where the group meets."""


def sessions_between(
    timetable: Timetable, first: datetime, last: datetime
) -> tuple[SessionTime, ...]:
    """Sessions that start from `first` on and before `last` (UTC), earliest first.

    At most twelve weeks and 200 sessions from `first`. A local time that the clock change skips
    moves forward with it; one that comes twice means the first. BadRule for a rule we don't take.
    """
    zone = ZoneInfo(timetable.zone)
    until = min(last, first + WINDOW)
    ends = until.astimezone(zone).replace(tzinfo=None)
    moments = ((to_utc(at, timetable.zone), at) for at in _occurrences(timetable, ends))
    wanted = ((at, planned) for at, planned in moments if first <= at < until)
    length = timedelta(minutes=timetable.minutes)
    return tuple(
        SessionTime(starts_at=at, ends_at=at + length, local_day=planned.date())
        for at, planned in islice(wanted, MOST_SESSIONS)
    )


def next_session(timetable: Timetable, after: datetime) -> SessionTime | None:
    """The first session that starts after that moment (UTC); None if none does within a year."""
    first = after + timedelta(microseconds=1)
    for _ in range(YEAR_OF_WINDOWS):
        found = sessions_between(timetable, first, first + WINDOW)
        if found:
            return found[0]
        first += WINDOW
    return None


def _occurrences(timetable: Timetable, ends: datetime) -> Iterator[datetime]:
    """Local starts from the first session to a day past `ends`.

    Days and months that only narrow a rule down are sorted out here: the recurrence library would
    look for one that never comes until the year 9999.
    """
    rule = read_rule(timetable.rrule)
    until = ends + timedelta(days=1)
    if rule.until is not None:
        until = min(until, _local_until(rule.until, timetable.zone))
    weekdays = [weekday(day) for day in rule.days] if rule.freq == WEEKLY else []
    steps = rrule(
        rule.freq,
        dtstart=timetable.starts,
        interval=rule.interval,
        byweekday=weekdays or None,
        wkst=rule.week_starts,
    )
    in_time = takewhile(lambda at: at <= until, steps)
    return islice((at for at in in_time if day_fits(at, rule)), rule.count)


def _local_until(until: datetime, zone: str) -> datetime:
    return local(until, zone).replace(tzinfo=None) if until.tzinfo else until


def is_zone(name: str) -> bool:
    """Whether this is the IANA name of a time zone."""
    return name in _zones()


@cache
def _zones() -> frozenset[str]:
    """Looked up once: it walks through hundreds of files."""
    return frozenset(available_timezones())


def local(moment: datetime, zone: str) -> datetime:
    """A moment as the clock on the wall there shows it, with its offset."""
    return moment.astimezone(ZoneInfo(zone))


def to_utc(wall: datetime, zone: str) -> datetime:
    """What the clock on the wall shows, as a moment in UTC.

    Skipped local times move forward and repeated ones mean the first, as RFC 5545, 3.3.5 has it;
    both are what an aware datetime with fold 0 does.
    """
    return wall.replace(tzinfo=ZoneInfo(zone), fold=0).astimezone(UTC)


def quiet(
    moment: datetime, zone: str, begins: time = QUIET_FROM, ends: time = QUIET_UNTIL
) -> datetime:
    """The next moment (UTC) at which a reminder may go out: the same one, or 08:00 local.

    The quiet hours may be others; where they end as they begin there are none.
    """
    wall = local(moment, zone)
    at = wall.time()
    is_quiet = begins <= at < ends if begins <= ends else at >= begins or at < ends
    if not is_quiet:
        return moment
    day = wall.date() if at < ends else wall.date() + timedelta(days=1)
    return to_utc(datetime.combine(day, ends), zone)
