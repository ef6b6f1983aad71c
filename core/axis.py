"""Where a belief puts people on a movement's ladder, for pictures and plain numbers."""

from dataclasses import dataclass

import numpy as np

from core.capacity import Belief, Outlook, laws, outlook
from core.movement import Dose, Measure, Movement
from core.plan import PlanLine

FOUR_OF_FIVE = 1.2816
"""Standard deviations on either side of a mean that hold 80 percent of a normal distribution."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reach:
    """A belief about one number: its mean, and ends between which it lies four times in five."""

    low: float
    middle: float
    high: float

    @property
    def half(self) -> float:
        """Half of the way between the ends."""
        return (self.high - self.low) / 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Axis:
    """One movement's ladder as a line, and everybody's place on it.

    A position is the log strength that is left at the variation `variation`: what lies further
    along is stronger. Positions of other axes can't be compared with it.
    """

    line: PlanLine
    belief: Belief
    view: Outlook
    variation: str

    @property
    def movement(self) -> Movement:
        """Whose ladder it is."""
        return self.line.movement

    def at_target(self, dose: Dose) -> float:
        """Where somebody stands for whom this dose is exactly the target."""
        measure = self.movement.measure
        load = (dose.load or self.line.dose.load or 1.0) if measure is Measure.LOAD else 1.0
        needed = laws.strength_at(
            measure, np.array([dose.amount]), np.array([load]), np.array([self.line.target])
        )
        return float(needed[0]) + self._further(dose.variation)

    def reach(self, member: str) -> Reach:
        """Where this member stands; without what differs from day to day."""
        row, rung = self.belief.members.index(member), self.movement.rung(self.variation)
        middle, half = float(self.view.mean[row, rung]), float(self.view.sd[row, rung])
        return Reach(
            low=middle - FOUR_OF_FIVE * half, middle=middle, high=middle + FOUR_OF_FIVE * half
        )

    def amount(self, position: float) -> float:
        """What somebody who stands there could just do of `variation`, never below zero.

        Seconds, repetitions or minutes; of a load the kilograms for the planned repetitions.
        """
        measure, planned = self.movement.measure, self.line.dose.amount
        if measure is Measure.LOAD:
            return float(np.exp(position - np.log1p(planned / 30)))
        possible = laws.possible(measure, np.array([position]), np.ones(1))
        return max(float(possible[0]), 0.0)

    def _further(self, variation: str) -> float:
        """How much further along somebody typical must be for this variation.

        By the demands as the group's answers have corrected them; the same for everybody, although
        one member may take to an easier or harder variation more than another.
        """
        taken, rung = self.view.taken, self.movement.rung
        return float(taken[rung(variation)] - taken[rung(self.variation)])


def axis(belief: Belief, line: PlanLine, variation: str) -> Axis:
    """The axis of a movement of the belief's plan, told by one of its variations."""
    place = belief.frame.place(line.movement.name)
    if place is None:
        raise ValueError(f"the plan has no {line.movement.name}")
    return Axis(line=line, belief=belief, view=outlook(belief, place), variation=variation)
