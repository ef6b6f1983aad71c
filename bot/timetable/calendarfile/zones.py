"""Time zones of calendar files: the IANA zone that is meant, or the file's own definition."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from hashlib import blake2b

from bot.timetable import is_zone
from bot.timetable.calendarfile.library import windows_zone
from bot.timetable.calendarfile.refusal import BadCalendar, Refusal
from bot.timetable.calendarfile.scanning import Line, Part

TIMES = frozenset(("DTSTART", "DTEND", "RDATE", "EXDATE", "RECURRENCE-ID"))
"""Lines that hold times of a time zone."""
YEARLY = re.compile(
    r"FREQ=YEARLY(;(INTERVAL=1|BYMONTH=(1[0-2]|[1-9])|BYDAY=[+-]?[1-5]?(MO|TU|WE|TH|FR|SA|SU)"
    r"|BYMONTHDAY=(\d\d?,){0,10}(1\d?|2[0-8]?|[3-9])|UNTIL=\d{8}(T\d{6}Z?)?|COUNT=\d{1,3}"
    r"|WKST=(MO|SU)))*",
    re.IGNORECASE,
)
"""How clocks change, once in most years. Anything else could keep a library busy for ever."""
UTC_LINE = re.compile(r"Z(,|/|$)", re.IGNORECASE)
MOST_CHANGES = 20
"""Rules for clock changes in one zone."""


@dataclass(frozen=True, slots=True)
class Zoned:
    """Lines of an event with zones that the library knows, and the definitions they need."""

    lines: tuple[Line, ...]
    definitions: tuple[str, ...]


def with_known_zones(event: Part, zones: Mapping[str, Part], home: str) -> Zoned:
    """The event with every time in a zone that is known; times without one are of `home`.

    BadCalendar for a zone that neither IANA nor the file defines.
    """
    definitions: dict[str, str] = {}
    lines = tuple(_with_zone(line, zones, home, definitions) for line in event.lines)
    return Zoned(lines, tuple(definitions.values()))


def known_as(name: str) -> str | None:
    """The IANA zone that a program means by this name, such as `/vendor/Europe/Lisbon`."""
    plain = name.strip("/ ")
    parts = plain.split("/")
    if is_zone(plain):
        return plain
    candidates = [windows_zone(plain) or ""]
    candidates += ["/".join(parts[at:]) for at in range(1, min(len(parts), 6))]
    return next((each for each in candidates if is_zone(each)), None)


def _with_zone(
    line: Line, zones: Mapping[str, Part], home: str, definitions: dict[str, str]
) -> Line:
    if line.name not in TIMES or (line.parameter("VALUE") or "").upper() == "DATE":
        return line
    kind = ";VALUE=PERIOD" if (line.parameter("VALUE") or "").upper() == "PERIOD" else ""
    named = line.parameter("TZID")
    if UTC_LINE.search(line.value):
        return replace(line, parameters=kind)
    zone = home if named is None else _zone(named, zones, definitions)
    return replace(line, parameters=f";TZID={zone}{kind}")


def _zone(name: str, zones: Mapping[str, Part], definitions: dict[str, str]) -> str:
    known = known_as(name)
    if known is not None:
        return known
    if name not in zones:
        raise BadCalendar(Refusal.ZONE, name[:64])
    body = "\r\n".join(_definition(name, zones[name]))
    # a name of its own: the library remembers zones by name, for every file that comes after
    own = f"zone-{blake2b(body.encode(), digest_size=10).hexdigest()}"
    definitions[own] = f"BEGIN:VTIMEZONE\r\nTZID:{own}\r\n{body}\r\nEND:VTIMEZONE"
    return own


def _definition(name: str, zone: Part) -> list[str]:
    changes = [each for each in zone.parts if each.name in ("STANDARD", "DAYLIGHT")]
    rules = [line.value for each in changes for line in each.lines if line.name == "RRULE"]
    if not 0 < len(changes) <= MOST_CHANGES or not all(map(YEARLY.fullmatch, rules)):
        raise BadCalendar(Refusal.ZONE, name[:64])
    return [
        text
        for each in changes
        for text in (f"BEGIN:{each.name}", *map(str, each.lines), f"END:{each.name}")
    ]
