"""What the instructor should know about a member, found in what they have said."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date
from typing import TypeVar

from core.alert import OF_SYMPTOMS, URGENT, Alert, AlertKind, Sighting
from core.changing import load_changes
from core.maximum import is_maximal, maximal_alerts
from core.reports import Bout, Reports, SessionRating, Symptom, SymptomKind
from core.rows import Asked, back, out_of_range, quiet
from core.thresholds import Thresholds

__all__ = [
    "OF_SYMPTOMS",
    "URGENT",
    "Alert",
    "AlertKind",
    "Asked",
    "Sighting",
    "Watch",
    "is_maximal",
    "watch",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Watch:
    """What a group is watched with, besides its reports."""

    target: float = 7.0
    """Effort aimed at, 0 to 10."""
    thresholds: Thresholds = field(default_factory=Thresholds)
    asked: tuple[Asked, ...] = ()
    """Which members were asked about which classes whose answers are due by now."""
    on: date | None = None
    """Today; None for the last day that anything was said about."""


def watch(reports: Reports, how: Watch | None = None) -> tuple[Alert, ...]:
    """Every alert that the history holds now, by member; order of the answers doesn't matter."""
    how, settled = how or Watch(), reports.settled()
    alerts = [_about(symptom) for symptom in settled.symptoms if _tells(symptom)]
    days = [each.on for said in (settled.ratings, settled.bouts, how.asked) for each in said]
    on = how.on or max(days, default=date.max)
    ratings, bouts = _by_member(settled.ratings), _by_member(settled.bouts)
    asked = _by_member(sorted(how.asked, key=lambda each: (each.on, each.session)))
    for member in sorted({*ratings, *bouts, *asked}):
        mine = Reports(ratings=tuple(ratings.get(member, ())), bouts=tuple(bouts.get(member, ())))
        alerts += _about_member(mine, tuple(asked.get(member, ())), how, member, on)
    return tuple(alerts)


def _about_member(
    said: Reports, asked: tuple[Asked, ...], how: Watch, member: str, on: date
) -> Iterable[Alert]:
    limits = how.thresholds
    maximal = maximal_alerts(said, member, limits)
    yield from maximal
    if not maximal:  # who is at the maximum is above the range, too
        yield from out_of_range(said.ratings, member, how.target, limits)
    yield from quiet(said, asked, member, limits)
    yield from back(said, asked, member, limits, on)
    yield from load_changes(said.ratings, [each.on for each in asked], member, limits, on)


Of = TypeVar("Of", SessionRating, Bout, Asked)


def _by_member(said: Iterable[Of]) -> dict[str, list[Of]]:
    found: dict[str, list[Of]] = {}
    for each in said:
        found.setdefault(each.member, []).append(each)
    return found


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
