"""A day and a time as people write them: `Fri 18:00`, `4/9 at 6 pm`, `morgen 19 Uhr`."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from bot.words.speech import Speech, later
from bot.words.typed_days import read_day
from bot.words.typed_times import read_clock, read_weekdays

BETWEEN = frozenset(("at", "on", "um", "den", "el", "la", "las", "a"))
"""Small words around a day or a time."""
MOST_WORDS = 8
TODAY, TOMORROW = later("today"), later("tomorrow")


@dataclass(frozen=True, slots=True, kw_only=True)
class Usual:
    """What is meant by whoever writes only a day, or only a time."""

    now: datetime
    """Local, without an offset."""
    day: date
    clock: time


def read_when(speech: Speech, text: str, usual: Usual) -> datetime | None:
    """The local moment that is meant; None if it is none."""
    words = re.split(r"[\s,;]+", text.strip().casefold())
    kept = [each for at, each in enumerate(words) if each not in BETWEEN and (at or each != "am")]
    if not 1 <= len(kept) <= MOST_WORDS:
        return None
    for first, rest in _cuts(kept):
        clock = read_clock(rest) if rest else usual.clock
        day = _day(speech, first, clock, usual) if first and clock else None
        if day is not None and clock is not None:
            return datetime.combine(day, clock)
    clock = read_clock(" ".join(kept))
    return None if clock is None else datetime.combine(usual.day, clock)


def _cuts(words: list[str]) -> Iterator[tuple[str, str]]:
    """All of it as a day, then a day with ever more of it as a time, then a time before a day."""
    for at in range(len(words), 0, -1):
        yield " ".join(words[:at]), " ".join(words[at:])
    for at in range(1, len(words)):
        yield " ".join(words[at:]), " ".join(words[:at])


def _day(speech: Speech, text: str, clock: time, usual: Usual) -> date | None:
    today = usual.now.date()
    if text == speech.label(TODAY).casefold():
        return today
    if text == speech.label(TOMORROW).casefold():
        return today + timedelta(days=1)
    named = read_weekdays(speech, text) if text[0].isalpha() else None
    if named is not None and len(named) == 1:
        ahead = (today + timedelta(days=days) for days in range(8))
        later_ones = (each for each in ahead if datetime.combine(each, clock) > usual.now)
        return next(each for each in later_ones if each.weekday() == named[0])
    return read_day(speech, text, today)
