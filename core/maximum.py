"""Who keeps going to the maximum: in classes, in one movement, or in a first class."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from itertools import groupby, pairwise
from statistics import fmean

from core.alert import Alert, AlertKind, Sighting
from core.effort import MAXIMUM
from core.reports import Bout, Reports, SessionRating
from core.rules import (
    EMPTY_MOVEMENTS,
    HIGH_EFFORT,
    MAXIMAL_EFFORT,
    MAXIMAL_OF_CLASSES,
    NOTHING_LEFT_EFFORT,
    RATES_HIGH,
    RATES_HIGH_BOUTS,
)
from core.thresholds import Threshold, Thresholds


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """What was seen of one session."""

    session: str
    sighting: Sighting
    maximal: bool


def maximal_alerts(said: Reports, member: str, limits: Thresholds) -> list[Alert]:
    """What one member's settled reports say of it; nothing twice in other words."""
    enough = limits.of(Threshold.MAXIMAL)
    told = [each for each in said.bouts if each.told]
    high = rates_high(told)
    bouts = [_seen(each, high=high) for each in told]
    classes = _classes(said.ratings, bouts, high=high)
    of_movements: list[Alert] = []
    rated = [each for each in bouts if _rated(each.sighting)]
    for movement, of_it in groupby(sorted(rated, key=_by_movement), key=_movement):
        kind = AlertKind.MAXIMAL_MOVEMENT
        of_movements += _repeated(member, kind, (movement,), of_it, enough, of_last=enough)
    named = {sighting for alert in of_movements for sighting in alert.evidence}
    alerts = [
        each
        for each in _repeated(
            member, AlertKind.MAXIMAL_CLASSES, (), classes, enough, of_last=MAXIMAL_OF_CLASSES
        )
        if not named.issuperset(each.evidence)
    ]
    return [*alerts, *of_movements, *_first(member, classes, limits)]


def is_maximal(sighting: Sighting, *, high: bool = False) -> bool:
    """Whether this was all-out: by the number, since nothing was left, or as it was cut short.

    `high` says that numbers alone say little of this member.
    """
    if sighting.completed is not None:
        return True
    if sighting.effort is None:
        return False
    if _empty(sighting.reserve):
        return sighting.effort >= NOTHING_LEFT_EFFORT
    return sighting.effort >= MAXIMAL_EFFORT and not high


def rates_high(bouts: Iterable[Bout]) -> bool:
    """Whether what this member says was left is clearly more than their ratings say.

    The share of the possible amount stands for the effort, in every measure: what people say was
    left is understated (Halperin et al. 2022, Sports Medicine 52:377), so that it errs towards
    taking their word. Who rates like this taps 9 and 10 with plenty left; when they stop early or
    have nothing left, that counts all the same.
    """
    differences = [
        bout.effort - MAXIMUM * bout.dose.amount / (bout.dose.amount + bout.reserve)
        for bout in bouts
        if bout.effort is not None
        and bout.effort >= HIGH_EFFORT
        and bout.reserve is not None
        and not bout.unfinished
    ]
    return len(differences) >= RATES_HIGH_BOUTS and fmean(differences) >= RATES_HIGH


def _first(member: str, classes: list[Seen], limits: Thresholds) -> list[Alert]:
    """The first class, until they have answered about a second one."""
    if len(classes) != 1 or not classes[0].maximal or not limits.of(Threshold.FIRST):
        return []
    only = classes[0]
    kind = AlertKind.FIRST_MAXIMAL
    return [Alert(member=member, kind=kind, cause=(only.session,), evidence=(only.sighting,))]


def _seen(bout: Bout, *, high: bool) -> Seen:
    sighting = _sighting(bout)
    return Seen(session=bout.session, sighting=sighting, maximal=is_maximal(sighting, high=high))


def _sighting(bout: Bout) -> Sighting:
    return Sighting(
        on=bout.on,
        movement=bout.movement,
        effort=bout.effort,
        dose=bout.dose,
        completed=bout.completed if bout.unfinished else None,
        reserve=bout.reserve,
    )


def _rated(sighting: Sighting) -> bool:
    return sighting.effort is not None or sighting.completed is not None


def _movement(seen: Seen) -> str:
    return seen.sighting.movement or ""


def _by_movement(seen: Seen) -> tuple[str, date, str]:
    return (_movement(seen), seen.sighting.on, seen.session)


def _empty(reserve: float | None) -> bool:
    return reserve is not None and reserve <= 0


def _classes(ratings: Iterable[SessionRating], bouts: list[Seen], *, high: bool) -> list[Seen]:
    """One sighting a class that was answered: a maximal movement, or else the rating."""
    found: dict[str, Seen] = {}
    for rating in ratings:
        if rating.attended and rating.effort is not None:
            seen = Sighting(on=rating.on, effort=rating.effort)
            found[rating.session] = Seen(
                session=rating.session, sighting=seen, maximal=is_maximal(seen, high=high)
            )
    empty = Counter(each.session for each in bouts if _empty(each.sighting.reserve))
    for bout in bouts:
        spent = _empty(bout.sighting.reserve) and empty[bout.session] >= EMPTY_MOVEMENTS
        if spent or bout.maximal:
            found[bout.session] = replace(bout, maximal=True)
        elif bout.sighting.effort is not None and bout.session not in found:
            only = Sighting(on=bout.sighting.on)
            found[bout.session] = Seen(session=bout.session, sighting=only, maximal=False)
    return sorted(found.values(), key=lambda each: (each.sighting.on, each.session))


def _repeated(
    member: str,
    kind: AlertKind,
    cause: tuple[str, ...],
    sightings: Iterable[Seen],
    enough: int,
    *,
    of_last: int,
) -> list[Alert]:
    """The alert if enough of the last sightings were maximal.

    Its cause is named after the first of an unbroken row of such findings, so that a third
    maximal class continues what was raised at the second, and a new row is a new cause.
    """
    seen = list(sightings)
    maximal = [place for place, each in enumerate(seen) if each.maximal]
    recent = [place for place in maximal if place >= len(seen) - of_last]
    if len(recent) < enough:
        return []
    first = recent[0]
    up_to_first = [place for place in maximal if place <= first]
    for later, earlier in pairwise(reversed(up_to_first)):
        if later - earlier >= of_last:
            break
        first = earlier
    return [
        Alert(
            member=member,
            kind=kind,
            cause=(*cause, seen[first].session),
            evidence=tuple(seen[place].sighting for place in recent),
        )
    ]
