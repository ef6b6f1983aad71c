"""Times as people write them: `6:15 pm`, `18.15 Uhr`, `Mon and Thu`, `1 h 30`, `50 min`."""

import re
from collections.abc import Mapping
from datetime import time
from functools import cache
from unicodedata import combining, normalize

from babel import Locale
from babel.dates import get_day_names

from bot.words.speech import LANGUAGES, Speech

CLOCK = re.compile(
    r"(?P<hour>\d{1,2})(?:\s*[:.h]\s*(?P<minute>\d{2}))?\s*(?:h|uhr)?\s*(?P<half>[ap]\.?m\.?)?",
    re.ASCII,
)
COMPACT = re.compile(r"(?P<hour>\d{1,2})(?P<minute>\d{2})\s*(?:h|uhr)?(?P<half>)", re.ASCII)
NOON = 12
"""The hour at which a clock of twelve hours begins anew."""
MINUTES = re.compile(r"(\d{1,3})\s*(?:m|min|mins|minutes?|minutos?|minuten?)?\.?", re.ASCII)
HOURS = re.compile(
    r"(\d)\s*(?:h|hours?|horas?|stunden?|std)\.?\s*(\d{1,2})?\s*(?:m|min|minutes?|minutos?|minuten?)?",
    re.ASCII,
)
APART = re.compile(r"[\s,;/&+.]+|\b(?:and|y|und)\b")
SPACED = re.compile(r"\s*[-–]\s*")
SHORTEST = 2
"""Letters by which a day can be told."""


def read_clock(text: str) -> time | None:
    """The time of day that is meant; None if it is none."""
    written = text.strip().casefold()
    found = CLOCK.fullmatch(written) or COMPACT.fullmatch(written)
    if found is None:
        return None
    hour, minute = int(found["hour"]), int(found["minute"] or 0)
    if half := found["half"]:
        if not 1 <= hour <= NOON:
            return None
        hour = hour % NOON + (NOON if half.startswith("p") else 0)
    return time(hour, minute) if hour < 2 * NOON and minute < 60 else None


def read_minutes(text: str) -> int | None:
    """A length in minutes; None if it is none."""
    written = text.strip().casefold()
    if found := MINUTES.fullmatch(written):
        return int(found[1])
    if found := HOURS.fullmatch(written):
        return 60 * int(found[1]) + int(found[2] or 0)
    return None


def read_weekdays(speech: Speech, text: str) -> tuple[int, ...] | None:
    """The days that are named, 0 for Monday, such as `Tue, Thu` or `Mon-Fri`; None if in doubt."""
    days: set[int] = set()
    for part in filter(None, APART.split(SPACED.sub("-", _bare(text)))):
        ends = [_weekday(speech.language, each) for each in part.split("-")]
        first, last = ends[0], ends[-1]
        if first is None or last is None or len(ends) > 2:
            return None
        days |= {day % 7 for day in range(first, last + 1 if first <= last else last + 8)}
    return tuple(sorted(days)) or None


def _weekday(language: str, written: str) -> int | None:
    """The day whose name begins so, or that is written in plural; None unless it is one alone."""
    if len(written) < SHORTEST:
        return None
    fitting = {
        day
        for known, day in _names(language).items()
        if known.startswith(written) or written == f"{known}s"
    }
    return fitting.pop() if len(fitting) == 1 else None


@cache
def _names(language: str) -> Mapping[str, int]:
    """Days by their names, long and short, in this language and in English."""
    locales = {Locale.parse(LANGUAGES[each]) for each in (language, "en")}
    return {
        _bare(name).rstrip("."): day
        for locale in locales
        for width in ("wide", "abbreviated", "short")
        for day, name in get_day_names(width, "format", locale).items()
    }


def _bare(text: str) -> str:
    """Small letters without accents."""
    apart = normalize("NFD", text.strip().casefold())
    return "".join(char for char in apart if not combining(char))
