"""Everything the instructor gets before class, as data."""

from dataclasses import dataclass
from datetime import date
from statistics import median

from core.movement import Dose
from core.plan import Plan, PlanLine
from core.reports import Reports
from core.rules import HALF_RANGE
from core.suggestion import Advice, Change, Option, ReasonKind, Suggestion
from core.watching import Alert

WEIGHTIEST = (
    ReasonKind.PAIN,
    ReasonKind.BREAK,
    ReasonKind.UNFINISHED,
    ReasonKind.RATING,
    ReasonKind.RESERVE,
)
"""Reasons that say something about one movement, the weightiest first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pitch:
    """How the last class was felt, against what it was aimed at."""

    on: date
    target: float
    present: int
    """Members who said they were there."""
    rated: int
    median: float | None
    """Of the whole-class ratings; None if nobody rated."""
    in_range: int
    """How many rated within a point of the target."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MovementDigest:
    """One movement: what the room does, and for whom that is a change."""

    movement: str
    options: tuple[Option, ...]
    """Easiest first."""
    changes: tuple[Suggestion, ...]
    """What is easier or harder than the same member's last time for a reason that says so, the
    weightiest reasons first; what only fits the room's options is left out."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Digest:
    """What to know before the next class."""

    on: date
    members: tuple[str, ...]
    alerts: tuple[Alert, ...]
    movements: tuple[MovementDigest, ...]
    """In the order of the plan."""
    last: Pitch | None
    """None before the first class."""
    quiet: tuple[str, ...]
    """Who has said nothing about the last class, and isn't new."""
    new: tuple[str, ...]
    """Who has said nothing at all yet."""
    paused: tuple[str, ...] = ()
    """Who wants no questions just now; they are neither quiet nor new."""


def prepare_digest(
    plan: Plan,
    advice: Advice,
    reports: Reports,
    alerts: tuple[Alert, ...],
    *,
    members: tuple[str, ...],
    on: date,
    last: date | None,
    paused: frozenset[str] = frozenset(),
) -> Digest:
    """Put together what is known on the day of the next class; `last` is the day of the one before.

    `last` is None before the first class; `paused` are those who want no questions just now.
    """
    awake = tuple(each for each in members if each not in paused)
    pitch = None if last is None else pitch_of(reports, on=last, target=plan.target)
    heard = {rating.member for rating in reports.ratings if not rating.noted}
    answered = {
        rating.member
        for rating in reports.ratings
        if rating.on == last and not (rating.noted and rating.attended)
    }
    known = tuple(each for each in awake if each in heard)
    return Digest(
        on=on,
        members=members,
        alerts=alerts,
        movements=tuple(_movement(line, advice) for line in plan.lines),
        last=pitch,
        quiet=() if last is None else tuple(each for each in known if each not in answered),
        new=tuple(each for each in awake if each not in heard),
        paused=tuple(each for each in members if each in paused),
    )


def pitch_of(reports: Reports, *, on: date, target: float) -> Pitch:
    """How the class of that day was felt."""
    ratings = [each for each in reports.settled().ratings if each.on == on]
    efforts = [each.effort for each in ratings if each.attended and each.effort is not None]
    return Pitch(
        on=on,
        target=target,
        present=sum(each.attended for each in ratings),
        rated=len(efforts),
        median=median(efforts) if efforts else None,
        in_range=sum(abs(effort - target) <= HALF_RANGE for effort in efforts),
    )


def options_of(plan: Plan, called: tuple[Suggestion, ...]) -> tuple[Option, ...]:
    """The options that these suggestions amount to, in the plan's order, easiest first."""
    members: dict[tuple[str, Dose], list[str]] = {}
    for each in called:
        members.setdefault((each.movement, each.dose), []).append(each.member)

    def easiest_first(item: tuple[str, Dose]) -> tuple[float, ...]:
        movement, dose = item
        place = next(i for i, line in enumerate(plan.lines) if line.movement.name == movement)
        demand = plan.lines[place].movement.demand(dose.variation)
        return (place, demand, dose.load or 0.0, dose.amount, dose.sets)

    return tuple(
        Option(movement=movement, dose=dose, members=tuple(members[movement, dose]))
        for movement, dose in sorted(members, key=easiest_first)
    )


def _movement(line: PlanLine, advice: Advice) -> MovementDigest:
    movement = line.movement.name
    telling = [
        each for each in advice.called if each.movement == movement and _explains(each, line.target)
    ]
    return MovementDigest(
        movement=movement,
        options=tuple(each for each in advice.options if each.movement == movement),
        changes=tuple(sorted(telling, key=lambda each: WEIGHTIEST.index(each.reason.kind))),
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
