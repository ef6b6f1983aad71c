"""The frame of a belief: which number stands where, and what is supposed before any answer."""

from dataclasses import dataclass

import numpy as np

from core import people
from core.capacity import laws
from core.capacity.laws import Numbers, Rows
from core.movement import Dose, Measure, Movement
from core.plan import Plan, PlanLine


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """One movement's place in the frame, and its numbers before any answer."""

    line: PlanLine
    at: int
    """Index among the movements."""
    shifts: tuple[float, ...]
    """Log strength that each variation takes, by rung."""
    ease: tuple[int, ...]
    """Index among a member's numbers of how easily they take this rung's side of the ladder; -1 for
    the standard."""
    corrections: tuple[int, ...]
    """Index of each rung's demand correction among the group's numbers; -1 for the standard."""
    start: float
    """Log strength that the plan supposes."""
    per_amount: float
    """Log strength per log amount, around what the plan supposes."""
    people_sd: float
    day_sd: float
    drift: float
    """Log strength per square root of a week."""
    growth: float
    """Log strength per week of training."""

    @property
    def movement(self) -> Movement:
        """The movement itself."""
        return self.line.movement

    @property
    def measure(self) -> Measure:
        """What the movement's amounts count."""
        return self.line.movement.measure

    def weights(self, rungs: Rows, size: int) -> Numbers:
        """How the strength left at these rungs hangs on a member's numbers; (rungs, numbers)."""
        weights = np.zeros((len(rungs), size))
        weights[:, self.at] = 1.0
        ease, shifts = np.array(self.ease)[rungs], np.abs(np.array(self.shifts))[rungs]
        eased = np.flatnonzero(ease >= 0)
        weights[eased, ease[eased]] = shifts[eased]
        return weights

    def load(self, dose: Dose) -> float:
        """The load of a dose; the plan's where it isn't said, 1 where there is none."""
        if self.measure is not Measure.LOAD:
            return 1.0
        return dose.load or self.line.dose.load or 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """Members' numbers: one log strength per movement; for each side of a ladder, how much less
    the easier and the harder variations take from them than from others, as a share of the log
    strength that they take; and last the rating bias in points of effort.

    The group's numbers: one offset per movement from what the plan supposes, then one log
    correction for each variation but the standard one. Movements stand in the order of their
    names, so that the order of a plan changes nothing.
    """

    places: tuple[Place, ...]
    size: int
    """How many numbers a member has; the last is the bias."""
    group_size: int

    @property
    def strengths(self) -> int:
        """How many of a member's numbers are log strengths; they come first."""
        return len(self.places)

    def place(self, movement: str) -> Place | None:
        """The place of that movement; None if the plan doesn't have it."""
        return next((each for each in self.places if each.movement.name == movement), None)

    def scales(self) -> Numbers:
        """Log strength per log amount, by movement."""
        return np.array([each.per_amount for each in self.places])

    def start(self) -> Numbers:
        """A member's mean before any answer."""
        start = np.zeros(self.size)
        start[: self.strengths] = [each.start for each in self.places]
        return start

    def spread(self) -> Numbers:
        """A member's covariance around the group before any answer."""
        sds = np.array([each.people_sd for each in self.places])
        likeness = np.full((len(sds), len(sds)), people.SHARED_BETWEEN_MOVEMENTS)
        np.fill_diagonal(likeness, 1.0)
        spread = np.diag(np.full(self.size, people.EASE_SD**2))
        spread[: len(sds), : len(sds)] = likeness * np.outer(sds, sds)
        spread[-1, -1] = people.BIAS_SD**2
        return spread

    def pull(self) -> Numbers:
        """How a member's numbers follow the group's before any answer."""
        pull = np.zeros((self.size, self.group_size))
        for each in self.places:
            pull[each.at, each.at] = 1.0
        return pull

    def group_spread(self) -> Numbers:
        """Covariance of the group's numbers before any answer."""
        spread = np.zeros((self.group_size, self.group_size))
        count = len(self.places)
        sds = people.GROUP_SD * np.array([each.people_sd for each in self.places])
        likeness = np.full((count, count), people.SHARED_OFFSET)
        np.fill_diagonal(likeness, 1.0)
        spread[:count, :count] = likeness * np.outer(sds, sds)
        for each in self.places:
            for shift, index in zip(each.shifts, each.corrections, strict=True):
                if index >= 0:
                    doubt = people.DEMAND_DOUBT * shift
                    spread[index, index] = doubt**2 + people.DEMAND_SD**2
        return spread


def frame(plan: Plan) -> Frame:
    """Lay out the numbers for a plan."""
    places = []
    number = correction = len(plan.lines)
    for at, line in enumerate(sorted(plan.lines, key=lambda line: line.movement.name)):
        sides = [_side(each.demand) for each in line.movement.ladder]
        numbers = {side: number + count for count, side in enumerate(sorted({*sides} - {0}))}
        others = [each.name != line.movement.standard for each in line.movement.ladder]
        corrections = [
            correction + sum(others[:rung]) if other else -1 for rung, other in enumerate(others)
        ]
        ease = tuple(numbers.get(side, -1) for side in sides)
        places.append(_place(line, at, ease, tuple(corrections)))
        number += len(numbers)
        correction += sum(others)
    return Frame(places=tuple(places), size=number + 1, group_size=correction)


def _side(demand: float) -> int:
    """Which side of the standard variation: -1 easier, 1 harder, 0 the same."""
    return int(np.sign(np.log(demand)))


def _place(line: PlanLine, at: int, ease: tuple[int, ...], corrections: tuple[int, ...]) -> Place:
    movement = line.movement
    measure = movement.measure
    shifts = tuple(laws.shift(each.demand) for each in movement.ladder)
    amount, load = np.array([line.dose.amount]), np.array([line.dose.load or 1.0])
    of_variation = laws.strength_at(measure, amount, load, np.array([line.target]))
    start = float(of_variation[0]) + shifts[movement.rung(line.dose.variation)]
    most = float(laws.possible(measure, of_variation, load)[0])
    per_amount = laws.per_log_amount(measure, most)
    between = {
        Measure.LOAD: people.PEOPLE_LOAD_SD,
        Measure.MINUTES: people.PEOPLE_MINUTES_SD,
    }.get(measure, people.PEOPLE_SD * per_amount)
    loaded = measure is Measure.LOAD
    return Place(
        line=line,
        at=at,
        shifts=shifts,
        ease=ease,
        corrections=corrections,
        start=start,
        per_amount=per_amount,
        people_sd=between,
        day_sd=people.DAY_TO_DAY_LOAD if loaded else people.DAY_TO_DAY * per_amount,
        drift=people.DRIFT_LOAD if loaded else people.DRIFT * per_amount,
        growth=people.GROWTH_LOAD if loaded else people.GROWTH * per_amount,
    )
