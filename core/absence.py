"""Breaks: when somebody was away for longer than a habit of not answering explains."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import pairwise
from math import prod

from core import rules


@dataclass(frozen=True, slots=True, kw_only=True)
class Presence:
    """One member's days in class, as far as they are known; each in order."""

    there: tuple[date, ...]
    """Days that they said something about."""
    absent: tuple[date, ...]
    """Days on which they said that they weren't there."""
    asked: tuple[date, ...]
    """Days about which they were asked, answered or not."""


def last_return(presence: Presence, at_least: int) -> tuple[date, date] | None:
    """The last day before a break and the first one after, if the latest day there is that one.

    A break lasts so many days or more. Classes that they weren't asked about, since they paused or
    none was held, count as away, and so does an "I wasn't there"; silence does only where their
    habit makes it unlikely.
    """
    for before, back in reversed(list(pairwise(presence.there[-2:]))):
        if (back - before).days >= at_least and _was_away(presence, before, back):
            return before, back
    return None


def _was_away(presence: Presence, before: date, back: date) -> bool:
    missed = _between(presence.asked, before, back)
    if not missed or _between(presence.absent, before, back):
        return True
    earlier = [day for day in presence.asked if day <= before]
    silent = len(set(earlier) - {*presence.there, *presence.absent})
    return _chance_of_silence(silent, len(earlier), len(missed)) < rules.UNLIKELY_SILENCE


def _chance_of_silence(silent: int, asked: int, row: int) -> float:
    """Chance of so many silent classes in a row, for somebody who was silent so often before.

    The predictive chance after Laplace's rule of succession: how often they are silent isn't
    known, only what they did so far, so that a newcomer's few answers make nobody certain.
    """
    return prod((silent + 1 + at) / (asked + 2 + at) for at in range(row))


def _between(days: Sequence[date], before: date, back: date) -> list[date]:
    return [day for day in days if before < day < back]
