"""How a class was felt against its target, and what to plan otherwise for the whole room."""

from dataclasses import dataclass
from datetime import date
from statistics import median, quantiles

import numpy as np

from core.axis import Axis, axis
from core.capacity import Belief, laws
from core.movement import Dose
from core.plan import Plan, PlanLine
from core.reports import Reports
from core.rules import HALF_RANGE, SURE_OF_ROOM
from core.suggestion import Advice, Suggestion

FEW = 4
"""Ratings up to which all of them are the spread; of more it is their middle half."""
MOST_OF_ROOM = 0.5
"""Share of the room that must be told something easier, or something harder, than is planned."""
SAME = 1e-6
MOST_ROOM_ADVICE = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Pitch:
    """How a class was felt, against what it was aimed at."""

    on: date
    target: float
    asked: int
    """Members who were asked about it."""
    present: int
    """Members who said they were there."""
    rated: int
    median: float | None
    """Of the whole-class ratings; None if nobody rated."""
    low: float | None
    """The middle half of the ratings lies between these; all of them, where they are few."""
    high: float | None
    in_range: int
    """How many rated within a point of the target."""
    answered: int = 0
    """Members who said anything about it, if only that they weren't there."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomAdvice:
    """What to plan of one movement for everybody."""

    line: PlanLine
    felt: float
    """Effort at which the middle of the room would do what is planned now, 0 to 10."""
    instead: Dose


def pitch_of(reports: Reports, *, on: date, target: float, asked: int | None = None) -> Pitch:
    """How the class of that day was felt; `asked` is None where only answers are known."""
    ratings = [each for each in reports.settled().ratings if each.on == on]
    efforts = sorted(e.effort for e in ratings if e.attended and e.effort is not None)
    low, high = _middle_half(efforts)
    answered = len({each.member for each in ratings if not each.noted})
    return Pitch(
        on=on,
        target=target,
        asked=max(answered, asked or 0),
        answered=answered,
        present=sum(each.attended for each in ratings),
        rated=len(efforts),
        median=median(efforts) if efforts else None,
        low=low,
        high=high,
        in_range=sum(abs(effort - target) <= HALF_RANGE for effort in efforts),
    )


def _middle_half(efforts: list[float]) -> tuple[float | None, float | None]:
    if not efforts:
        return None, None
    if len(efforts) <= FEW:
        return efforts[0], efforts[-1]
    first, _, third = quantiles(efforts, n=4, method="inclusive")
    return first, third


def for_the_room(belief: Belief, plan: Plan, advice: Advice) -> tuple[RoomAdvice, ...]:
    """What is pitched too hard or too easy for most of the room, the worst first.

    Everybody's own option is worked out anyway; a plan that fits the room makes the options fit
    more people. What is proposed is what the middle of the room is told to do, so that it never
    contradicts the options. Silent as long as less than half of the room has answered.
    """
    known = frozenset(np.array(belief.members)[belief.answered > 0].tolist())
    if not known or 2 * len(known) < len(belief.members):
        return ()
    found = [
        each
        for line in plan.lines
        for each in _about(
            belief, line, [e for e in advice.suggestions if _is_of(e, line) and e.member in known]
        )
    ]
    off = sorted(found, key=lambda each: -abs(each.felt - each.line.target))
    return tuple(off[:MOST_ROOM_ADVICE])


def _is_of(suggestion: Suggestion, line: PlanLine) -> bool:
    return suggestion.movement == line.movement.name


def _about(belief: Belief, line: PlanLine, told: list[Suggestion]) -> list[RoomAdvice]:
    if not told:
        return []
    on = axis(belief, line, line.movement.standard)
    planned = on.at_target(line.dose)
    at = sorted(told, key=lambda each: (on.at_target(each.dose), each.member))
    off = [on.at_target(each.dose) - planned for each in at]
    harder = sum(each > SAME for each in off) > MOST_OF_ROOM * len(off)
    easier = sum(each < -SAME for each in off) > MOST_OF_ROOM * len(off)
    rows = [belief.members.index(each.member) for each in told]
    felt = _felt(line, on, rows)
    sure = felt - line.target > SURE_OF_ROOM if easier else line.target - felt > SURE_OF_ROOM
    if not (easier or harder) or not sure:
        return []
    middle = at[(len(at) - 1) // 2 if harder else len(at) // 2].dose
    return [RoomAdvice(line=line, felt=felt, instead=middle)]


def _felt(line: PlanLine, on: Axis, rows: list[int]) -> float:
    """Effort of the middle of these members, if they did what is planned."""
    rung = line.movement.rung(line.dose.variation)
    strengths = on.view.mean[rows, rung]
    amount, load = np.full(1, line.dose.amount), np.full(1, line.dose.load or 1.0)
    felt = np.clip(laws.effort(line.movement.measure, amount, load, strengths), 0, 10)
    middle: float = median(felt.tolist())
    return middle
