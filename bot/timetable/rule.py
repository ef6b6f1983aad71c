"""Recurrence rules as RFC 5545 writes them, as far as a class timetable needs them."""

from dataclasses import dataclass
from datetime import UTC, datetime, time
from typing import Literal

from dateutil.rrule import DAILY, WEEKLY

Frequency = Literal[2, 3]
"""WEEKLY and DAILY, as python-dateutil numbers them."""

FREQUENCIES: dict[str, Frequency] = {"WEEKLY": WEEKLY, "DAILY": DAILY}
DAYS = ("MO", "TU", "WE", "TH", "FR", "SA", "SU")
KEYS = ("FREQ", "INTERVAL", "COUNT", "UNTIL", "BYDAY", "BYMONTH", "WKST")
"""What we take of RFC 5545, 3.3.10. Hours and minutes come from the start alone, so that a day
never has more than one session, and nothing here can run on for ever."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """The part of a recurrence rule that we take, checked."""

    freq: Frequency
    interval: int = 1
    count: int | None = None
    until: datetime | None = None
    """UTC if it carries an offset, else local; the last moment that still counts."""
    days: tuple[int, ...] = ()
    """0 for Monday; empty for the day of the start."""
    months: tuple[int, ...] = ()
    week_starts: int = 0


class BadRule(ValueError):
    """A recurrence rule that we don't take; `part` is the piece that is wrong."""

    def __init__(self, part: str, expected: str) -> None:
        super().__init__(f"{part}: expected {expected}")
        self.part = part
        self.expected = expected


def day_fits(at: datetime, rule: Rule) -> bool:
    """Whether a local moment falls on a day and in a month that its rule names.

    RFC 5545 leaves open what happens when the first session of a rule doesn't.
    """
    on_day = not rule.days or at.weekday() in rule.days
    return on_day and (not rule.months or at.month in rule.months)


def read_rule(text: str) -> Rule:
    """A recurrence rule, checked; BadRule naming the part that is wrong."""
    parts = _parts(text)
    freq = FREQUENCIES.get(parts.get("FREQ", ""))
    if freq is None:
        raise BadRule(f"FREQ={parts.get('FREQ', '')}", "FREQ=WEEKLY or FREQ=DAILY")
    if "COUNT" in parts and "UNTIL" in parts:
        raise BadRule("COUNT with UNTIL", "one of the two")
    return Rule(
        freq=freq,
        interval=_number(parts, "INTERVAL", 366) or 1,
        count=_number(parts, "COUNT", 10_000),
        until=_until(parts["UNTIL"]) if "UNTIL" in parts else None,
        days=tuple(_day("BYDAY", each) for each in _list(parts, "BYDAY")),
        months=tuple(_month(each) for each in _list(parts, "BYMONTH")),
        week_starts=_day("WKST", parts.get("WKST", "MO")),
    )


def _parts(text: str) -> dict[str, str]:
    parts: dict[str, str] = {}
    for part in text.strip().upper().removeprefix("RRULE:").split(";"):
        key, _, value = part.partition("=")
        if key not in KEYS or not value:
            raise BadRule(part, f"parts of the form KEY=VALUE with the keys {', '.join(KEYS)}")
        if key in parts:
            raise BadRule(part, f"{key} once")
        parts[key] = value
    return parts


def _list(parts: dict[str, str], key: str) -> list[str]:
    return parts[key].split(",") if key in parts else []


def _number(parts: dict[str, str], key: str, most: int) -> int | None:
    text = parts.get(key)
    if text is None:
        return None
    if not (text.isascii() and text.isdigit() and len(text) < 7 and 1 <= int(text) <= most):
        raise BadRule(f"{key}={text}", f"a whole number from 1 to {most}")
    return int(text)


def _month(text: str) -> int:
    if text not in map(str, range(1, 13)):
        raise BadRule(f"BYMONTH={text}", "months from 1 to 12")
    return int(text)


def _day(key: str, text: str) -> int:
    if text not in DAYS:
        raise BadRule(f"{key}={text}", f"days out of {', '.join(DAYS)}")
    return DAYS.index(text)


def _until(text: str) -> datetime:
    """The last moment of a rule; a bare date means all of that day."""
    try:
        if text.endswith("Z"):
            return datetime.strptime(text, "%Y%m%dT%H%M%SZ").replace(tzinfo=UTC)
        if "T" in text:
            return datetime.strptime(text, "%Y%m%dT%H%M%S")  # noqa: DTZ007  (local on purpose)
        day = datetime.strptime(text, "%Y%m%d").date()  # noqa: DTZ007  (a day has no zone)
    except ValueError:
        expected = "a date like 20261224 or a moment like 20261224T183000Z"
        raise BadRule(f"UNTIL={text}", expected) from None
    return datetime.combine(day, time.max)
