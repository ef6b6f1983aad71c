"""What the instructor should know about a member, found in what they have said."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from itertools import groupby, pairwise

from core.movement import Dose
from core.reports import Bout, Reports, Symptom, SymptomKind
from core.rules import MAXIMAL_EFFORT, MAXIMAL_OF_CLASSES, MAXIMAL_SIGHTINGS


class AlertKind(StrEnum):
    """What an alert is about."""

    WARNING = "warning sign"
    PAIN = "pain"
    MAXIMAL_CLASSES = "maximal classes"
    """Two of the last three answered classes were maximal or held an unfinished movement."""
    MAXIMAL_MOVEMENT = "maximal movement"
    """The same movement was maximal or unfinished twice in a row."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sighting:
    """One piece of evidence: what was said about which day."""

    on: date
    movement: str | None = None
    """None when it's about the class as a whole."""
    effort: float | None = None
    dose: Dose | None = None
    completed: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Alert:
    """Something about one member, with its evidence, oldest first."""

    member: str
    kind: AlertKind
    cause: tuple[str, ...]
    """Names what it's about: the same cause is raised once, however often it's found."""
    evidence: tuple[Sighting, ...]
    symptom: Symptom | None = None


def watch(reports: Reports) -> tuple[Alert, ...]:
    """Every alert that the history holds now, by member; order of the answers doesn't matter."""
    settled = reports.settled()
    alerts = [_about(symptom) for symptom in settled.symptoms if _tells(symptom)]
    members = {each.member for each in settled.ratings} | {each.member for each in settled.bouts}
    for member in sorted(members):
        bouts = tuple(each for each in settled.bouts if each.member == member)
        classes = _classes(settled, member, bouts)
        alerts += _repeated(member, AlertKind.MAXIMAL_CLASSES, (), classes, MAXIMAL_OF_CLASSES)
        for movement, of_it in groupby(sorted(bouts, key=_by_movement), key=lambda b: b.movement):
            rated = [
                (b.session, _sighting(b)) for b in of_it if b.effort is not None or b.unfinished
            ]
            alerts += _repeated(member, AlertKind.MAXIMAL_MOVEMENT, (movement,), rated, 2)
    return tuple(alerts)


def is_maximal(sighting: Sighting) -> bool:
    """Whether this was all-out: by the number, or because it was cut short."""
    return sighting.completed is not None or (
        sighting.effort is not None and sighting.effort >= MAXIMAL_EFFORT
    )


def _tells(symptom: Symptom) -> bool:
    return symptom.open and symptom.kind in (SymptomKind.PAIN, SymptomKind.WARNING)


def _about(symptom: Symptom) -> Alert:
    kind = AlertKind.PAIN if symptom.kind is SymptomKind.PAIN else AlertKind.WARNING
    return Alert(
        member=symptom.member,
        kind=kind,
        # where it hurts may be said later; outside of classes each report is one of its own
        cause=(symptom.session or symptom.said_at.isoformat(),),
        evidence=(Sighting(on=symptom.on, movement=symptom.movement),),
        symptom=symptom,
    )


def _sighting(bout: Bout) -> Sighting:
    return Sighting(
        on=bout.on,
        movement=bout.movement,
        effort=bout.effort,
        dose=bout.dose,
        completed=bout.completed if bout.unfinished else None,
    )


def _by_movement(bout: Bout) -> tuple[str, date, str]:
    return (bout.movement, bout.on, bout.session)


def _classes(reports: Reports, member: str, bouts: tuple[Bout, ...]) -> list[tuple[str, Sighting]]:
    """One sighting a class that was answered: the unfinished movement, or else the rating."""
    found: dict[str, Sighting] = {}
    for rating in reports.ratings:
        if rating.member == member and rating.attended and rating.effort is not None:
            found[rating.session] = Sighting(on=rating.on, effort=rating.effort)
    for bout in bouts:
        if bout.unfinished:
            found[bout.session] = _sighting(bout)
        elif bout.effort is not None:
            found.setdefault(bout.session, Sighting(on=bout.on))
    return sorted(found.items(), key=lambda item: (item[1].on, item[0]))


def _repeated(
    member: str,
    kind: AlertKind,
    cause: tuple[str, ...],
    sightings: Iterable[tuple[str, Sighting]],
    of_last: int,
) -> list[Alert]:
    """The alert if enough of the last sightings were maximal.

    Its cause is named after the first of an unbroken row of such findings, so that a third
    maximal class continues what was raised at the second, and a new row is a new cause.
    """
    seen = list(sightings)
    maximal = [place for place, (_, each) in enumerate(seen) if is_maximal(each)]
    recent = [place for place in maximal if place >= len(seen) - of_last]
    if len(recent) < MAXIMAL_SIGHTINGS:
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
            cause=(*cause, seen[first][0]),
            evidence=tuple(seen[place][1] for place in recent),
        )
    ]
