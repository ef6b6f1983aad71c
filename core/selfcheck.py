"""How well a member's ratings agree with their reserve and with stopping short."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from math import sqrt
from statistics import fmean, stdev

from core.effort import MAXIMUM, effort_at
from core.movement import Measure
from core.plan import Plan
from core.reports import Bout, Reports

ENOUGH = 5
"""Comparisons before anything is said. Our own choice: fewer tell more about chance."""
ENOUGH_FOR_TREND = 8
"""Comparisons before earlier and later ones are told apart. Our own choice."""
WORTH_SAYING = 1.0
"""Points of bias from which it is worth a word; the noise of one rating is nearly as large."""
CLEAR = 2.0
"""Doubts (standard errors) that a bias must exceed before it is called one."""
CLOSE_DOUBT = 0.5
"""Points of doubt below which a small bias is called a good fit. Our own choice."""
LEAST_SPREAD = 0.5
"""Points. A few equal differences in a row don't make anyone certain."""
TREND_POINTS = 0.5
"""Change of the mean difference, in points, that counts as a trend. Our own choice."""


class Fit(StrEnum):
    """What the comparisons say so far."""

    LOWER = "lower"
    """Ratings are lower than what was left says."""
    CLOSE = "close"
    HIGHER = "higher"
    """Ratings are higher than what was left says."""
    OPEN = "open"
    """Too uneven to say."""


class Direction(StrEnum):
    """How ratings and what was left have come to agree over time."""

    CLOSER = "closer"
    STEADY = "steady"
    APART = "apart"


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """One rating beside what the same bout says otherwise."""

    on: date
    movement: str
    rated: float
    """Effort, 0 to 10, as rated."""
    implied: float
    """Effort, 0 to 10, that goes with the reserve, or 10 for a bout that was cut short."""

    @property
    def difference(self) -> float:
        """Points by which the rating is higher."""
        return self.rated - self.implied


@dataclass(frozen=True, slots=True, kw_only=True)
class SelfCheck:
    """One member's way of using the scale; no mark, only what to look at next."""

    member: str
    comparisons: tuple[Comparison, ...]
    """Oldest first."""
    bias: float
    """Mean difference in points; above zero where they rate higher than what was left says."""
    spread: float
    """Standard deviation of the differences, in points."""
    doubt: float
    """Standard error of the bias, in points: how sure it is."""
    fit: Fit
    direction: Direction | None
    """None until there is enough to compare earlier with later."""


def check_ratings(reports: Reports, plan: Plan, member: str) -> SelfCheck | None:
    """How a member's ratings compare with the rest of what they said; None until there is enough.

    People understate what is left by about one repetition (Halperin et al. 2022, 12 studies). That
    isn't corrected here: the question is whether somebody's two answers go together.
    """
    bouts = [each for each in reports.settled().bouts if each.member == member]
    compared = tuple(found for each in bouts if (found := compare(each, plan)) is not None)
    if len(compared) < ENOUGH:
        return None
    differences = [each.difference for each in compared]
    bias, spread = fmean(differences), stdev(differences)
    doubt = max(spread, LEAST_SPREAD) / sqrt(len(differences))
    return SelfCheck(
        member=member,
        comparisons=compared,
        bias=bias,
        spread=spread,
        doubt=doubt,
        fit=_fit(bias, doubt),
        direction=_direction(differences),
    )


def compare(bout: Bout, plan: Plan) -> Comparison | None:
    """The rating of one bout beside what else was said about it; None if it says nothing else.

    A 10 beside a bout that was cut short tells nothing: it is what stopping early is stored as.
    """
    line = plan.line(bout.movement)
    if line is None or bout.effort is None:
        return None
    implied = _implied(bout, line.movement.measure)
    if implied is None or (bout.unfinished and bout.effort == MAXIMUM):
        return None
    return Comparison(on=bout.on, movement=bout.movement, rated=bout.effort, implied=implied)


def _implied(bout: Bout, measure: Measure) -> float | None:
    """Effort without asking for effort.

    Holds: the share of the possible hold (Shepherd et al. 2013, Eur J Appl Physiol 113:905).
    Repetitions and loads: the reserve table. Minutes: what is left of steady work isn't asked.
    """
    if bout.unfinished:
        return MAXIMUM
    if bout.reserve is None:
        return None
    match measure:
        case Measure.HOLD:
            return MAXIMUM * bout.dose.amount / (bout.dose.amount + bout.reserve)
        case Measure.REPS | Measure.LOAD:
            return effort_at(bout.reserve)
        case Measure.MINUTES:
            return None


def _fit(bias: float, doubt: float) -> Fit:
    if abs(bias) >= WORTH_SAYING and abs(bias) > CLEAR * doubt:
        return Fit.HIGHER if bias > 0 else Fit.LOWER
    if abs(bias) < WORTH_SAYING and doubt < CLOSE_DOUBT:
        return Fit.CLOSE
    return Fit.OPEN


def _direction(differences: Sequence[float]) -> Direction | None:
    """Whether the later half lies nearer to agreement than the earlier one."""
    if len(differences) < ENOUGH_FOR_TREND:
        return None
    half = len(differences) // 2
    sizes = [abs(each) for each in differences]
    change = fmean(sizes[-half:]) - fmean(sizes[:half])
    if abs(change) < TREND_POINTS:
        return Direction.STEADY
    return Direction.CLOSER if change < 0 else Direction.APART
