"""Works out which classes a calendar file plans, and why one can't be taken."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from itertools import islice
from typing import TYPE_CHECKING

from bot.timetable import MOST_SESSIONS, WINDOW, local
from bot.timetable.calendarfile.library import expanded
from bot.timetable.calendarfile.read import Calendar, Series
from bot.timetable.calendarfile.refusal import BadCalendar, Refusal
from bot.timetable.calendarfile.rules import bounded_rule
from bot.timetable.calendarfile.scanning import Line, Part
from bot.timetable.calendarfile.zones import with_known_zones

if TYPE_CHECKING:
    from icalendar import Component

FARTHEST = timedelta(days=2 * 366)
SHORTEST, LONGEST = timedelta(minutes=5), timedelta(minutes=600)
CANCELLED = "CANCELLED"


@dataclass(frozen=True, slots=True, kw_only=True)
class Planned:
    """One class as a calendar file has it."""

    event: str
    """UID and RECURRENCE-ID: the same class has the same, whenever it is moved to."""
    uid: str
    slot: datetime
    """The local start that it stands for; another one than its start if it was moved."""
    starts_at: datetime
    """UTC."""
    ends_at: datetime
    """UTC."""
    local_day: date


@dataclass(frozen=True, slots=True, kw_only=True)
class Home:
    """What a group has that its calendar may leave out."""

    zone: str
    """IANA name: of times without a zone."""
    minutes: int
    """Of classes without an end."""


def planned_between(
    calendar: Calendar, home: Home, first: datetime, last: datetime
) -> tuple[Planned, ...]:
    """Classes that start from `first` on and before `last` (UTC), earliest first, none twice.

    At most twelve weeks from `first`. BadCalendar for an event that can't be taken, and for more
    than 200 classes: nobody has so many, and working them out would take long.
    """
    until = min(last, first + WINDOW)
    found: list[Planned] = []
    for series in calendar.series:
        found += islice(_of_series(calendar, series, home, first, until), MOST_SESSIONS + 1)
        if len(found) > MOST_SESSIONS:
            raise BadCalendar(Refusal.TOO_MANY, str(MOST_SESSIONS))
    by_start = {each.starts_at: each for each in sorted(found, key=_order, reverse=True)}
    return tuple(sorted(by_start.values(), key=_order))


def problem_with(calendar: Calendar, home: Home, now: datetime) -> BadCalendar | None:
    """Why these events can't be a group's classes; None if they can."""
    try:
        for series in calendar.series:
            _check_start(calendar, series, home, now)
        planned_between(calendar, home, now, now + WINDOW)
    except BadCalendar as refused:
        return refused
    return None


def _order(planned: Planned) -> tuple[datetime, str]:
    return planned.starts_at, planned.event


def _of_series(
    calendar: Calendar, series: Series, home: Home, first: datetime, last: datetime
) -> Iterator[Planned]:
    """The occurrences of one UID that aren't cancelled."""
    try:
        text = _alone(calendar, series, home)
        found = expanded(text, first, last)
        occurrences = [(each, *_times(each, home)) for each in found]
    except BadCalendar:
        raise
    except Exception as broken:
        # two libraries and what people write: whatever it is, it isn't a timetable
        raise BadCalendar(Refusal.BROKEN, series.title) from broken
    for event, slot, starts_at, ends_at in occurrences:
        if event.get("STATUS", "").upper() == CANCELLED or not first <= starts_at < last:
            continue
        if not SHORTEST <= ends_at - starts_at <= LONGEST:
            raise BadCalendar(Refusal.LENGTH, series.title)
        yield Planned(
            event=f"{series.uid}\n{slot:%Y%m%dT%H%M%SZ}" if _repeats(series) else series.uid,
            uid=series.uid,
            slot=local(slot, home.zone).replace(tzinfo=None),
            starts_at=starts_at,
            ends_at=ends_at,
            local_day=local(starts_at, home.zone).date(),
        )


def _times(event: "Component", home: Home) -> tuple[datetime, datetime, datetime]:
    """What an occurrence stands for, and its start and end, in UTC."""
    starts_at, ends_at, slot = (_utc(event, name) for name in ("DTSTART", "DTEND", "RECURRENCE-ID"))
    if ends_at == starts_at:
        ends_at = starts_at + timedelta(minutes=home.minutes)
    return slot, starts_at, ends_at


def _utc(event: "Component", name: str) -> datetime:
    moment = event.decoded(name)
    if not isinstance(moment, datetime) or moment.tzinfo is None:
        raise TypeError(name)
    return moment.astimezone(UTC)


def _repeats(series: Series) -> bool:
    """Whether a UID stands for more than one class."""
    return any(
        event.first(name) is not None
        for event in series.events
        for name in ("RRULE", "RDATE", "RECURRENCE-ID")
    )


def _alone(calendar: Calendar, series: Series, home: Home) -> str:
    """One UID as a file of its own, with nothing in it that could keep a library busy."""
    zoned = []
    for event in series.events:
        _refuse(series, event)
        zoned.append(with_known_zones(event, calendar.zones, home.zone))
    definitions = sorted({text for each in zoned for text in each.definitions})
    events = (
        "\r\n".join(("BEGIN:VEVENT", *_lines(series, each.lines), "END:VEVENT")) for each in zoned
    )
    return "\r\n".join(
        ("BEGIN:VCALENDAR", "VERSION:2.0", *definitions, *events, "END:VCALENDAR", "")
    )


def _lines(series: Series, lines: tuple[Line, ...]) -> Iterator[str]:
    start = next((line for line in lines if line.name == "DTSTART"), None)
    for line in lines:
        if line.name == "UID":
            continue
        if line.name == "RRULE" and start is not None:
            yield str(replace(line, value=bounded_rule(line.value, start, series.title)))
        elif line.name != "SUMMARY":
            yield str(line)
    yield "UID:one"


def _refuse(series: Series, event: Part) -> None:
    """Refuse what no class can be, or what no library should be asked."""
    start = event.first("DTSTART")
    if start is None:
        raise BadCalendar(Refusal.BROKEN, series.title)
    times = [line for line in event.lines if line.name in ("DTSTART", "DTEND", "RDATE")]
    if any((line.parameter("VALUE") or "").upper() == "DATE" for line in times) or (
        len(start.value) == len("20260903")
    ):
        raise BadCalendar(Refusal.WHOLE_DAY, series.title)
    rules = [line for line in event.lines if line.name in ("RRULE", "EXRULE")]
    moved = event.first("RECURRENCE-ID")
    several = len(rules) > 1 or any(line.name == "EXRULE" for line in rules)
    following = moved is not None and moved.parameter("RANGE") is not None
    if several or following or (moved is not None and rules):
        raise BadCalendar(Refusal.RULE, series.title)


def _check_start(calendar: Calendar, series: Series, home: Home, now: datetime) -> None:
    """The event itself, or the first of its days, begins within two years of now."""
    for event in series.events:
        start = event.first("DTSTART")
        if start is None:
            raise BadCalendar(Refusal.BROKEN, series.title)
        try:
            day = datetime.strptime(start.value[:8], "%Y%m%d").replace(tzinfo=UTC)
        except ValueError:
            raise BadCalendar(Refusal.BROKEN, series.title) from None
        if abs(day - now) > FARTHEST:
            raise BadCalendar(Refusal.TOO_FAR, series.title)
