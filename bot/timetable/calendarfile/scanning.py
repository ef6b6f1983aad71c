"""Looks through a calendar file line by line, and keeps only what says when events are."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from bot.timetable.calendarfile.refusal import BadCalendar, Refusal

MOST_EVENTS = 200
MOST_ZONES = 20
MOST_LINES = 200
"""Lines of one event that say when it is; each day left out may have a line of its own."""
MOST_DATES = 600
"""Days that one line may add or leave out."""
LONGEST_LINE = 16_000
"""Characters of one line that says when something is."""
DEEPEST = 4
"""Components inside components: calendar, event or zone, and what is in those."""

ABOUT_EVENTS = frozenset(
    (
        "UID",
        "SUMMARY",
        "DTSTART",
        "DTEND",
        "DURATION",
        "RRULE",
        "EXRULE",
        "RDATE",
        "EXDATE",
        "RECURRENCE-ID",
        "STATUS",
        "SEQUENCE",
    )
)
ABOUT_ZONES = frozenset(
    ("DTSTART", "TZOFFSETFROM", "TZOFFSETTO", "TZNAME", "RRULE", "RDATE", "TZID")
)
ONCE = frozenset(
    ("UID", "SUMMARY", "DTSTART", "DTEND", "DURATION", "RECURRENCE-ID", "STATUS", "SEQUENCE")
)
"""What an event says once; of two the first counts."""
NAME = re.compile(r"[A-Za-z0-9-]+")


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a calendar file: `NAME;PARAMETER=VALUE:value`."""

    name: str
    parameters: str
    """With the semicolon that they begin with; empty if there are none."""
    value: str

    def parameter(self, name: str) -> str | None:
        """The value of a parameter, without its quotes; None if the line hasn't got it."""
        pattern = rf';{name}=(?:"([^"]*)"|([^";:]*))'
        found = re.search(pattern, self.parameters, re.IGNORECASE)
        return None if found is None else found[1] if found[1] is not None else found[2]

    def __str__(self) -> str:
        return f"{self.name}{self.parameters}:{self.value}"


@dataclass(slots=True)
class Part:
    """A component: its own lines that matter, and those of the components in it."""

    name: str
    lines: list[Line] = field(default_factory=list)
    parts: list["Part"] = field(default_factory=list)

    def first(self, name: str) -> Line | None:
        """Its first line of that name."""
        return next((line for line in self.lines if line.name == name), None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Scanned:
    """What is left of a calendar file."""

    name: str
    """Of the calendar as a whole; empty if it has none."""
    events: tuple[Part, ...]
    zones: Mapping[str, Part]


def scan(text: str) -> Scanned:
    """The events and time zones of a file; BadCalendar for what isn't one, or is too much."""
    found = Part("")
    stack = [found]
    for line in _lines(text):
        if line.name == "BEGIN":
            _begin(stack, line.value.strip().upper())
        elif line.name == "END":
            _end(stack, line.value.strip().upper())
        elif len(stack) > 1:
            _keep(stack, line)
    calendars = [each for each in found.parts if each.name == "VCALENDAR"]
    if len(stack) > 1 or not calendars:
        raise BadCalendar(Refusal.NO_CALENDAR)
    return _scanned(calendars)


def _scanned(calendars: list[Part]) -> Scanned:
    parts = [part for calendar in calendars for part in calendar.parts]
    events = tuple(each for each in parts if each.name == "VEVENT")
    zones = [each for each in parts if each.name == "VTIMEZONE"]
    if len(events) > MOST_EVENTS or len(zones) > MOST_ZONES:
        raise BadCalendar(Refusal.TOO_MANY, str(MOST_EVENTS))
    if not events:
        raise BadCalendar(Refusal.NO_EVENTS)
    name = calendars[0].first("X-WR-CALNAME") or calendars[0].first("NAME")
    named = {zone.value: each for each in zones if (zone := each.first("TZID")) is not None}
    return Scanned(name="" if name is None else name.value, events=events, zones=named)


def _lines(text: str) -> Iterator[Line]:
    """Lines that were folded put together again (RFC 5545, 3.1)."""
    unfolded = re.sub(r"(?:\r\n|\n|\r)[ \t]", "", text.lstrip("\ufeff"))
    for raw in re.split(r"\r\n|\n|\r", unfolded):
        line = _line(raw)
        if line is not None:
            yield line


def _line(raw: str) -> Line | None:
    """One line read; None for what is none, which other programs pass over as well."""
    name = NAME.match(raw)
    if name is None:
        return None
    quoted = False
    for place in range(name.end(), min(len(raw), LONGEST_LINE)):
        if raw[place] == '"':
            quoted = not quoted
        elif raw[place] == ":" and not quoted:
            return Line(name[0].upper(), raw[name.end() : place], raw[place + 1 :])
    return None


def _begin(stack: list[Part], name: str) -> None:
    if len(stack) > DEEPEST:
        raise BadCalendar(Refusal.NO_CALENDAR)
    part = Part(name)
    stack[-1].parts.append(part)
    stack.append(part)


def _end(stack: list[Part], name: str) -> None:
    if len(stack) < 2 or stack[-1].name != name:
        raise BadCalendar(Refusal.NO_CALENDAR)
    stack.pop()


def _keep(stack: list[Part], line: Line) -> None:
    """Keep a line if it says when something is, or what it is called."""
    part, around = stack[-1], stack[-2]
    if part.name == "VCALENDAR":
        wanted = line.name in ("X-WR-CALNAME", "NAME")
    elif part.name == "VEVENT":
        wanted = line.name in ABOUT_EVENTS and not (line.name in ONCE and part.first(line.name))
    else:
        in_zone = part.name == "VTIMEZONE" or around.name == "VTIMEZONE"
        wanted = in_zone and line.name in ABOUT_ZONES
    if not wanted:
        return
    too_long = len(str(line)) > LONGEST_LINE or line.value.count(",") > MOST_DATES
    if too_long or len(part.lines) >= MOST_LINES:
        raise BadCalendar(Refusal.BROKEN, _title(part))
    part.lines.append(line)


def _title(part: Part) -> str:
    summary = part.first("SUMMARY")
    return "" if summary is None else summary.value[:64]
