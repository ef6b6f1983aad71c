"""Everything the instructor gets before class, as data."""

from dataclasses import dataclass, replace
from datetime import date

from core.alert import OF_MAXIMUM, Alert, AlertKind, Sighting
from core.pitch import Pitch, RoomAdvice, pitch_of
from core.plan import Plan, PlanLine
from core.reports import Reports
from core.suggestion import Advice, Change, Option, ReasonKind, Suggestion

WEIGHTIEST = (
    ReasonKind.PAIN,
    ReasonKind.BREAK,
    ReasonKind.UNFINISHED,
    ReasonKind.RATING,
    ReasonKind.RESERVE,
)
"""Reasons that say something about one movement, the weightiest first."""
ALERTS_FIRST = tuple(AlertKind)
"""In the order in which they are declared: what can't wait comes first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MovementDigest:
    """One movement: what the room does."""

    line: PlanLine
    options: tuple[Option, ...]
    """Easiest first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """What is easier or harder for one member than their last time, for a reason that says why."""

    member: str
    change: Change
    movements: tuple[str, ...]
    """In the order of the plan."""
    telling: Suggestion
    """The one of them with the weightiest reason."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Digest:
    """What to know before the next class."""

    on: date
    expected: tuple[str, ...]
    """Members who don't pause, in the order of joining."""
    alerts: tuple[Alert, ...]
    """What no instructor has seen yet; what amounts to the same is one alert."""
    seen: tuple[Alert, ...]
    """What was seen and still holds."""
    movements: tuple[MovementDigest, ...]
    """In the order of the plan."""
    differences: tuple[Difference, ...]
    """The weightiest reasons first; what only fits the room's options is left out."""
    last: Pitch | None
    """None before the first class."""
    room: tuple[RoomAdvice, ...]
    quiet: tuple[str, ...]
    """Who has said nothing about the last class, and isn't new."""
    new: tuple[str, ...]
    """Who has said nothing at all yet."""
    returning: tuple[tuple[str, int | None], ...]
    """Who would come back after a break, with the days since their last class where known."""
    paused: tuple[str, ...] = ()
    """Who wants no questions just now; they are neither quiet nor new."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Before:
    """What is known of the class before, and of what the instructors have seen since."""

    on: date | None = None
    """Its day; None before the first class."""
    asked: int | None = None
    """How many were asked about it."""
    alerts: tuple[Alert, ...] = ()
    """What holds now and nobody has seen."""
    seen: tuple[Alert, ...] = ()
    room: tuple[RoomAdvice, ...] = ()


def prepare_digest(
    plan: Plan,
    advice: Advice,
    reports: Reports,
    before: Before,
    *,
    members: tuple[str, ...],
    on: date,
    paused: frozenset[str] = frozenset(),
) -> Digest:
    """Put together what is known on the day of the next class.

    `paused` are those who want no questions just now.
    """
    awake = tuple(each for each in members if each not in paused)
    pitch = (
        None
        if before.on is None
        else pitch_of(reports, on=before.on, target=plan.target, asked=before.asked)
    )
    heard = {rating.member for rating in reports.ratings if not rating.noted}
    answered = {  # who is known to have been away needn't answer
        rating.member
        for rating in reports.ratings
        if rating.on == before.on and not (rating.noted and rating.attended)
    }
    returning = _returning(advice)
    known = tuple(each for each in awake if each in heard and each not in returning)
    return Digest(
        on=on,
        expected=awake,
        alerts=merged(before.alerts),
        seen=merged(before.seen),
        movements=tuple(_movement(line, advice) for line in plan.lines),
        differences=differences(plan, advice, frozenset(awake)),
        last=pitch,
        room=before.room,
        quiet=() if before.on is None else tuple(each for each in known if each not in answered),
        new=tuple(each for each in awake if each not in heard),
        returning=tuple((each, returning[each]) for each in awake if each in returning),
        paused=tuple(each for each in members if each in paused),
    )


def merged(alerts: tuple[Alert, ...]) -> tuple[Alert, ...]:
    """The same with one alert about each member and thing, what can't wait first."""
    found: dict[tuple[str, AlertKind], Alert] = {}
    for each in sorted(alerts, key=lambda alert: ALERTS_FIRST.index(alert.kind)):
        kind = AlertKind.MAXIMAL_CLASSES if each.kind in OF_MAXIMUM else each.kind
        held = found.setdefault((each.member, kind), each)
        if held is not each:
            evidence = {*held.evidence, *each.evidence}
            found[each.member, kind] = replace(held, evidence=tuple(sorted(evidence, key=_when)))
    return tuple(found.values())


def _when(sighting: Sighting) -> tuple[date, str]:
    return (sighting.on, sighting.movement or "")


def differences(plan: Plan, advice: Advice, members: frozenset[str]) -> tuple[Difference, ...]:
    """One for each of these members and direction, where a reason says why."""
    targets = {line.movement.name: line.target for line in plan.lines}
    found: dict[tuple[str, Change], list[Suggestion]] = {}
    for each in advice.called:  # in the order of the plan, member by member
        if each.member in members and _explains(each, targets.get(each.movement, plan.target)):
            found.setdefault((each.member, each.change), []).append(each)
    told = [
        Difference(
            member=member,
            change=change,
            movements=tuple(each.movement for each in those),
            telling=min(those, key=_weight),
        )
        for (member, change), those in found.items()
    ]
    return tuple(sorted(told, key=lambda each: _weight(each.telling)))


def _weight(suggestion: Suggestion) -> int:
    return WEIGHTIEST.index(suggestion.reason.kind)


def _returning(advice: Advice) -> dict[str, int | None]:
    return {
        each.member: each.reason.days_away
        for each in advice.called
        if each.reason.kind is ReasonKind.BREAK
    }


def _movement(line: PlanLine, advice: Advice) -> MovementDigest:
    movement = line.movement.name
    return MovementDigest(
        line=line, options=tuple(each for each in advice.options if each.movement == movement)
    )


def _explains(suggestion: Suggestion, target: float) -> bool:
    """Whether the reason says why it is easier or harder; options for the room change some too."""
    reason, easier = suggestion.reason, suggestion.change is Change.EASIER
    if suggestion.change is Change.SAME:
        return False
    match reason.kind:
        case ReasonKind.PAIN | ReasonKind.BREAK | ReasonKind.UNFINISHED:
            return easier
        case ReasonKind.RATING:
            return reason.effort is not None and easier == (reason.effort > target)
        case ReasonKind.RESERVE:
            return not easier
        case _:
            return False
