"""How good each dose would be for each member, and which one is best: the decision itself."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core import rules
from core.capacity import Outlook, laws
from core.capacity.readings import normal_cdf
from core.doses import Doses, Numbers
from core.limits import Mask
from core.movement import Measure
from core.plan import PlanLine

NEVER = -2
"""In place of the last dose, for who has not done a movement yet."""

LEAST_EFFORT, MOST_EFFORT = 0.5, 10.0
"""Ends of the range that a target's band may reach to."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Prospects:
    """What each dose would mean for each member; shape (members, doses) throughout."""

    in_range: Numbers
    """Chance that the effort lies within the band around the target, 0 to 1."""
    over: Numbers
    """Chance that it passes the ceiling, 0 to 1."""
    effort: Numbers
    """Expected effort, 0 to 10."""
    worth: Numbers
    """What the decision goes by: the chance in range, less what a dose has against it."""


def prospects(line: PlanLine, offered: Doses, outlook: Outlook) -> Prospects:
    """Weigh every offered dose for every member."""
    measure = line.movement.measure
    mean = outlook.mean[:, offered.rungs]
    sd = outlook.total_sd[:, offered.rungs]

    def needed(effort: float) -> Numbers:
        return laws.strength_at(
            measure, offered.amount, offered.load, np.full(len(offered.amount), effort)
        )

    low = max(line.target - rules.HALF_RANGE, LEAST_EFFORT)
    high = min(line.target + rules.HALF_RANGE, MOST_EFFORT)
    in_range = normal_cdf((needed(low) - mean) / sd) - normal_cdf((needed(high) - mean) / sd)
    over = normal_cdf((needed(line.ceiling) - mean) / sd)
    effort = np.clip(laws.effort(measure, offered.amount, offered.load, mean), 0.0, 10.0)
    off = np.maximum(np.abs(effort - line.target) - rules.HALF_RANGE, 0.0)
    worth = in_range - rules.OFF_TARGET * off
    if measure in (Measure.LOAD, Measure.MINUTES):
        worth = worth - rules.OTHER_AMOUNT * np.abs(np.log(offered.amount / line.dose.amount))
    return Prospects(in_range=in_range, over=over, effort=effort, worth=worth)


def permitted(seen: Prospects, limits: Mask) -> Mask:
    """Within the limits and the chance over the ceiling; the least chance where none is."""
    safe = limits & (seen.over <= rules.CHANCE_OVER_CEILING)
    least = np.where(limits, seen.over, np.inf)
    least_bad = limits & (least <= least.min(axis=1, keepdims=True))
    return np.asarray(np.where(safe.any(axis=1, keepdims=True), safe, least_bad))


def best(
    line: PlanLine,
    offered: Doses,
    seen: Prospects,
    may: Mask,
    usual: NDArray[np.int64],
    last: NDArray[np.int64],
) -> NDArray[np.int64]:
    """Each member's best dose, as an index into the offered ones.

    `usual` is the rung that each is used to; `last` the index of the dose that each last did, -1
    if it isn't offered, -2 before the first time. The last dose stays unless something better is
    worth a change; better than that may lie several classes away, so small steps towards it are
    worth theirs.
    """
    steady = line.movement.measure is Measure.MINUTES  # its variation is what should change
    change = rules.WORTH_A_CHANGE if steady else rules.NEW_VARIATION
    away = np.abs(offered.rungs[None, :] - usual[:, None])
    worth = seen.worth - change * away
    members = np.arange(len(worth))
    aim = np.where(seen.over <= rules.CHANCE_OVER_CEILING, worth, -np.inf).max(axis=1)
    begun = last > NEVER
    sensible = may & (_fitting_rungs(line, offered, seen, may, usual) | ~begun[:, None])
    best_allowed = np.where(sensible, worth, -np.inf).argmax(axis=1)
    near = aim - worth[members, last] < rules.WORTH_A_CHANGE
    stay = (last >= 0) & may[members, last] & near
    return np.where(stay, last, best_allowed)


def _fitting_rungs(
    line: PlanLine, offered: Doses, seen: Prospects, may: Mask, usual: NDArray[np.int64]
) -> Mask:
    """Harder rungs only where all permitted on the usual one is too easy, easier ones if not.

    Otherwise "too easy" could lead down the ladder, to a longer dose, since what one class may add
    is limited.
    """
    there = may & (offered.rungs == usual[:, None])
    most = np.where(there, seen.effort, -np.inf).max(axis=1)
    too_easy = ((most < line.target) & there.any(axis=1))[:, None]
    rungs, home = offered.rungs[None, :], usual[:, None]
    return np.asarray(np.where(too_easy, rungs >= home, rungs <= home))
