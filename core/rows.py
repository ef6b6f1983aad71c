"""Classes in a row: out of range, without an answer, and the first after a break."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import takewhile

from core.absence import Presence, last_return
from core.alert import Alert, AlertKind, Sighting
from core.reports import Reports, SessionRating
from core.rules import HALF_RANGE, LONG_SILENCE_DAYS
from core.thresholds import Threshold, Thresholds


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """A class that a member was asked about."""

    member: str
    session: str
    on: date


def out_of_range(
    ratings: Sequence[SessionRating], member: str, target: float, limits: Thresholds
) -> list[Alert]:
    """The last rated classes, all above or all below; the cause is the first of them."""
    rated = [each for each in ratings if each.attended and each.effort is not None]

    def row(kind: AlertKind, least: int, out: Callable[[float], bool]) -> list[Alert]:
        last = list(takewhile(lambda each: out(each.effort or 0.0), reversed(rated)))
        if not least or len(last) < least:
            return []
        evidence = tuple(Sighting(on=each.on, effort=each.effort) for each in last[:least])
        cause = (last[-1].session,)
        return [Alert(member=member, kind=kind, cause=cause, evidence=evidence[::-1])]

    above = limits.of(Threshold.ABOVE)
    below = limits.of(Threshold.BELOW)
    return [
        *row(AlertKind.ABOVE_RANGE, above, lambda effort: effort > target + HALF_RANGE),
        *row(AlertKind.BELOW_RANGE, below, lambda effort: effort < target - HALF_RANGE),
    ]


def quiet(said: Reports, asked: Sequence[Asked], member: str, limits: Thresholds) -> list[Alert]:
    """The last classes that they were asked about, all without any answer."""
    least = limits.of(Threshold.QUIET)
    heard = {each.session for each in said.ratings} | {each.session for each in said.bouts}
    last = list(takewhile(lambda each: each.session not in heard, reversed(asked)))
    if not least or len(last) < least:
        return []
    evidence = tuple(Sighting(on=each.on) for each in last[:least])
    cause = (last[-1].session,)
    return [Alert(member=member, kind=AlertKind.QUIET, cause=cause, evidence=evidence[::-1])]


def back(
    said: Reports, asked: Sequence[Asked], member: str, limits: Thresholds, on: date
) -> list[Alert]:
    """Their latest class, if it was the first after a break and isn't long ago."""
    least = limits.of(Threshold.BREAK)
    there = {each.on for each in said.bouts} | {each.on for each in said.ratings if each.attended}
    absent = {each.on for each in said.ratings if not each.attended}
    presence = Presence(
        there=tuple(sorted(there)),
        absent=tuple(sorted(absent)),
        asked=tuple(sorted({each.on for each in asked} | there | absent)),
    )
    found = last_return(presence, least) if least else None
    if found is None or (on - found[1]).days >= LONG_SILENCE_DAYS:
        return []
    evidence = tuple(Sighting(on=day) for day in found)
    cause = (found[1].isoformat(),)
    return [Alert(member=member, kind=AlertKind.BACK, cause=cause, evidence=evidence)]
