"""Reads calendar files, and writes down of them what has to be kept."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from hashlib import blake2b

from bot.timetable.calendarfile.scanning import Line, Part, scan
from bot.timetable.calendarfile.zones import TIMES, known_as
from core.names import tidy

ESCAPED = re.compile(r"\\([\\;,nN])")


@dataclass(frozen=True, slots=True, kw_only=True)
class Series:
    """Everything that a file says of one UID: an event, and what differs on single days."""

    uid: str
    title: str
    """What people call it; empty if it has no name."""
    events: tuple[Part, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Calendar:
    """A calendar file as far as it matters."""

    name: str
    """Of the whole calendar; empty if it has none."""
    series: tuple[Series, ...]
    """In the order of the file."""
    zones: Mapping[str, Part]

    @property
    def titles(self) -> tuple[str, ...]:
        """What its events are called, each once, in the order of the file."""
        return tuple(dict.fromkeys(each.title for each in self.series))

    def called(self, *titles: str) -> "Calendar":
        """The same with the events of these titles only."""
        wanted = tuple(each for each in self.series if each.title in titles)
        return Calendar(name=self.name, series=wanted, zones=self.zones)


def read_calendar(text: str) -> Calendar:
    """A calendar file, looked through; BadCalendar for what isn't one, or is too much.

    Whether its events can be classes is asked later, of those that are chosen.
    """
    found = scan(text)
    by_uid: dict[str, list[Part]] = {}
    for event in found.events:
        by_uid.setdefault(_uid(event), []).append(event)
    return Calendar(
        name=tidy(_plain(found.name)),
        series=tuple(
            Series(uid=uid, title=_title(events), events=tuple(events))
            for uid, events in by_uid.items()
        ),
        zones=found.zones,
    )


def write_calendar(calendar: Calendar) -> str:
    """What is kept of a calendar: a file that reads back to the same events."""
    events = [event for each in calendar.series for event in each.events]
    named = {line.parameter("TZID") for event in events for line in event.lines if _is_time(line)}
    zones = [
        calendar.zones[name] for name in sorted(filter(None, named)) if _defines(calendar, name)
    ]
    parts = (text for part in (*zones, *events) for text in _written(part))
    return "\r\n".join(("BEGIN:VCALENDAR", "VERSION:2.0", *parts, "END:VCALENDAR", ""))


def _defines(calendar: Calendar, zone: str) -> bool:
    return known_as(zone) is None and zone in calendar.zones


def _is_time(line: Line) -> bool:
    return line.name in TIMES


def _written(part: Part) -> Iterable[str]:
    yield f"BEGIN:{part.name}"
    yield from map(str, part.lines)
    for each in part.parts:
        if each.name in ("STANDARD", "DAYLIGHT"):
            yield from _written(each)
    yield f"END:{part.name}"


def _uid(event: Part) -> str:
    """What names an event for ever; of one that has no name, what it says."""
    uid = event.first("UID")
    if uid is not None and uid.value.strip():
        return uid.value.strip()
    said = "\n".join(str(line) for line in event.lines if line.name in ("SUMMARY", "DTSTART"))
    return f"nameless-{blake2b(said.encode(errors='replace'), digest_size=10).hexdigest()}"


def _title(events: Iterable[Part]) -> str:
    """The title of the event itself, or else of one of its days."""
    ordered = sorted(events, key=lambda event: event.first("RECURRENCE-ID") is not None)
    titles = (line.value for event in ordered if (line := event.first("SUMMARY")) is not None)
    return next((title for each in titles if (title := tidy(_plain(each)))), "")


def _plain(text: str) -> str:
    return ESCAPED.sub(lambda found: " " if found[1] in "nN" else found[1], text)
