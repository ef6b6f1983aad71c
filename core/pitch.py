"""How a class was felt against its target, and what to plan otherwise for the whole room."""

from dataclasses import dataclass, replace
from datetime import date
from statistics import median, quantiles

import numpy as np

from core.capacity import Belief, laws, outlook
from core.doses import Doses, doses
from core.movement import Dose
from core.plan import Plan, PlanLine
from core.reports import Reports
from core.rules import HALF_RANGE, SURE_OF_ROOM

FEW = 4
"""Ratings up to which all of them are the spread; of more it is their middle half."""
NEXT_RUNG = 0.5
"""Points of effort that another variation must bring the room nearer to be planned instead."""
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
    answered = len({each.member for each in ratings})
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


def for_the_room(belief: Belief, plan: Plan) -> tuple[RoomAdvice, ...]:
    """What is surely pitched too hard or too easy for the middle of the room, the worst first.

    Everybody's own option is worked out anyway; a plan that fits the room makes the options fit
    more people. Silent as long as less than half of the room has answered.
    """
    found = [each for line in plan.lines for each in _about(belief, line)]
    off = sorted(found, key=lambda each: -abs(each.felt - each.line.target))
    return tuple(off[:MOST_ROOM_ADVICE])


def _about(belief: Belief, line: PlanLine) -> list[RoomAdvice]:
    place = belief.frame.place(line.movement.name)
    known = np.flatnonzero(belief.answered > 0)
    if place is None or 2 * len(known) < len(belief.members) or not len(known):
        return []
    view, offered = outlook(belief, place), doses(line)
    planned = _planned(line, offered)
    mean, sd = view.mean[known], view.sd[known]
    felt = _felt(line, offered, mean, planned)
    lower = _felt(line, offered, mean - sd / np.sqrt(len(known)), planned)
    if abs(felt - line.target) <= SURE_OF_ROOM + 2 * abs(lower - felt):
        return []
    best = min(_near(line, offered, planned), key=lambda at: _off(line, offered, mean, planned, at))
    instead = replace(offered.dose(best), sets=line.dose.sets)
    better = abs(_felt(line, offered, mean, best) - line.target) < abs(felt - line.target)
    return [RoomAdvice(line=line, felt=felt, instead=instead)] if better else []


def _planned(line: PlanLine, offered: Doses) -> int:
    """The offered dose nearest to the planned one."""
    rung = line.movement.rung(line.dose.variation)
    load = line.dose.load or 1.0
    far = np.abs(np.log(offered.amount / line.dose.amount)) + np.abs(np.log(offered.load / load))
    return int(np.argmin(np.where(offered.rungs == rung, far, np.inf)))


def _near(line: PlanLine, offered: Doses, planned: int) -> list[int]:
    """The same and the neighbouring variations; of a load the same repetitions."""
    near = np.abs(offered.rungs - offered.rungs[planned]) <= 1
    if offered.loaded:
        near &= offered.amount == offered.amount[planned]
    return [int(at) for at in np.flatnonzero(near)]


def _off(
    line: PlanLine, offered: Doses, mean: laws.Numbers, planned: int, at: int
) -> tuple[float, float]:
    other = NEXT_RUNG * float(offered.rungs[at] != offered.rungs[planned])
    change = abs(float(np.log(offered.amount[at] / offered.amount[planned])))
    return (round(abs(_felt(line, offered, mean, at) - line.target) + other, 6), change)


def _felt(line: PlanLine, offered: Doses, mean: laws.Numbers, at: int) -> float:
    """Effort of the middle of the room at this dose."""
    amount, load = np.full(1, offered.amount[at]), np.full(1, offered.load[at])
    strengths = mean[:, offered.rungs[at]]
    felt = np.clip(laws.effort(line.movement.measure, amount, load, strengths), 0, 10)
    return float(np.median(felt))
