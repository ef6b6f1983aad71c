"""What a member's progress is: ratings over time, and where they stand on each ladder."""

from dataclasses import dataclass
from datetime import date

from core.advice import believe
from core.capacity import Belief
from core.plan import Plan
from core.reports import Reports
from core.rules import HALF_RANGE
from core.standing import Standing, standings, worth_showing

ENOUGH_CLASSES = 3
"""Rated classes from which there is something to see: fewer points make no line, and by then
somebody knows the scale."""
MOST_RATINGS = 20
"""Rated classes shown, the latest: as many marks as a phone's width keeps apart."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Felt:
    """How hard one class was."""

    on: date
    effort: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Progress:
    """Everything that a member's picture and its sentences are made of."""

    rated: int
    """Classes rated in all."""
    ratings: tuple[Felt, ...]
    """The latest of them, oldest first."""
    low: float
    high: float
    """The range aimed at, 0 to 10; both ends count."""
    standings: tuple[Standing, ...]
    """In the plan's order."""
    unshown: int
    """Movements with answers for which there is no room."""

    @property
    def enough(self) -> bool:
        """Whether there is something to see."""
        return self.rated >= ENOUGH_CLASSES

    @property
    def harder(self) -> int:
        """Shown ratings above the range."""
        return sum(each.effort > self.high for each in self.ratings)

    @property
    def easier(self) -> int:
        """Shown ratings below the range."""
        return sum(each.effort < self.low for each in self.ratings)

    @property
    def as_planned(self) -> int:
        """Shown ratings in the range."""
        return len(self.ratings) - self.harder - self.easier

    @property
    def most_changed(self) -> Standing | None:
        """The clearest change to tell of: a gain if there is one, else a loss, else none."""
        changed = [each for each in self.standings if each.changed]
        gained = [each for each in changed if each.gain > 0]
        if gained:
            return max(gained, key=lambda each: each.gain)
        return min(changed, key=lambda each: each.gain, default=None)

    @property
    def vaguest(self) -> Standing | None:
        """The movement of which another answer would tell most."""
        return max(self.standings, key=lambda each: each.doubt, default=None)


def progress(
    plan: Plan, reports: Reports, members: tuple[str, ...], member: str, on: date
) -> Progress:
    """One of these members' progress on that day; the others only help to know the ladders."""
    settled = reports.settled()
    return progress_from(believe(plan, settled, members, on), plan, settled, member, on)


def progress_from(belief: Belief, plan: Plan, settled: Reports, member: str, on: date) -> Progress:
    """The same from a belief on that day that is already known; the reports are settled."""
    efforts = [
        Felt(on=each.on, effort=each.effort)
        for each in settled.ratings
        if each.member == member and each.attended and each.effort is not None and each.on <= on
    ]
    told = [each for each in settled.bouts if each.member == member and each.on <= on]
    shown, unshown = worth_showing(plan, told)
    return Progress(
        rated=len(efforts),
        ratings=tuple(efforts[-MOST_RATINGS:]),
        low=plan.target - HALF_RANGE,
        high=plan.target + HALF_RANGE,
        standings=standings(belief, plan, settled, member, on, shown),
        unshown=unshown,
    )
