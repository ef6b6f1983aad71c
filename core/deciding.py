"""How good each dose would be for each member, and which one is best: the decision itself.

The decision is built so that who seems weaker at equal doubt is never given more: each step is a
threshold or a nearest dose on an ordered set, and both follow what is believed in one direction.
"""

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
from core.turning import turns

Indices = NDArray[np.int64]
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
    """What sharing doses goes by: the chance in range, less what a dose has against it."""
    spare: Numbers
    """Log strength beyond what the dose takes in the middle of the range: 0 is just right."""
    doubt: Numbers
    """Standard deviation of the log strength on one given day."""
    left: Numbers
    """Believed log strength left at each variation; shape (members, rungs)."""
    takes: Numbers
    """Log strength that each dose takes in the middle of the range; shape (doses,)."""


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
    takes = (needed(low) + needed(high)) / 2
    return Prospects(
        in_range=in_range,
        over=over,
        effort=effort,
        worth=in_range - rules.OFF_TARGET * off,
        spare=mean - takes,
        doubt=sd,
        left=outlook.mean,
        takes=takes,
    )


def permitted(offered: Doses, seen: Prospects, limits: Mask) -> Mask:
    """Within the limits and the chance over the ceiling, and so is whatever takes less.

    And always the easiest that the limits leave: there must be something.
    """
    safe = np.zeros_like(limits)
    for rung in np.unique(offered.rungs):
        there = np.flatnonzero(offered.rungs == rung)
        order = there[np.argsort(seen.takes[there], kind="stable")]
        small = seen.over[:, order] <= rules.CHANCE_OVER_CEILING
        safe[:, order] = np.logical_and.accumulate(small, axis=1)
    safe &= limits
    ladder = np.lexsort((seen.takes, offered.rungs))
    easiest = ladder[limits[:, ladder].argmax(axis=1)]
    alone = np.arange(limits.shape[1])[None, :] == easiest[:, None]
    return np.asarray(safe | alone)


def best(
    line: PlanLine,
    offered: Doses,
    seen: Prospects,
    may: Mask,
    limits: Mask,
    usual: Indices,
    last: Indices,
) -> Indices:
    """Each member's best dose, as an index into the offered ones.

    `usual` is the rung that each is used to; `last` the index of the dose that each last did, -1
    if there is none on offer. The last dose stays while it's near enough to the target. Else a
    dose on the usual rung that goes in the right direction; another rung only where that has more
    to offer, now or in time, or where the usual one has nothing that is safe and easy enough.
    """
    members = np.arange(len(usual))
    near = seen.effort[members, last] - line.target
    known = (last >= 0) & limits[members, last]
    stays = known & may[members, last] & (np.abs(near) <= rules.NEAR_ENOUGH)
    wanted = _in_the_right_direction(offered, seen, may, usual, np.where(known, last, -1), near)
    rung = _rungs(line, offered, seen, may, limits, usual, np.where(known, near, np.nan))
    there = wanted & (offered.rungs == rung[:, None])
    distance = np.where(
        there, np.abs(seen.spare - rules.CAUTION * seen.doubt) + _against(line, offered), np.inf
    )
    order = np.argsort(seen.takes, kind="stable")  # of equally near ones the easier
    return np.where(stays, last, order[distance[:, order].argmin(axis=1)])


def _in_the_right_direction(
    offered: Doses, seen: Prospects, may: Mask, usual: Indices, last: Indices, near: Numbers
) -> Mask:
    """Not less than the last dose where that was too easy, and not more where it was too hard."""
    takes, before = seen.takes[None, :], seen.takes[last][:, None]
    home = offered.rungs == usual[:, None]
    apart = np.where(near[:, None] < 0, takes < before, takes > before)
    wrong = home & apart & (last >= 0)[:, None]
    keeps = may & ~wrong
    return np.asarray(np.where((keeps & home).any(axis=1, keepdims=True) | ~home, keeps, may))


def _rungs(
    line: PlanLine,
    offered: Doses,
    seen: Prospects,
    may: Mask,
    limits: Mask,
    usual: Indices,
    near: Numbers,
) -> Indices:
    """The rung for each: the usual one, the next where that has more to offer, or an easier one.

    `near` is by how much the last dose is too hard, in points; not a number if there is none. Who
    found it too easy isn't sent down, and who found it too hard not up.
    """
    members = np.arange(len(usual))
    turn = turns(line)
    count = len(turn.shifts)
    rungs = np.arange(count)
    level = seen.left[members, usual] + turn.shifts[usual]
    least = np.zeros((len(usual), count))
    possible = np.zeros((len(usual), count), dtype=np.bool_)
    for rung in rungs:
        there = offered.rungs == rung
        least[:, rung] = np.where(limits & there, seen.effort, np.inf).min(axis=1)
        possible[:, rung] = (may & there).any(axis=1)
    fits = possible & (least <= line.target + rules.HALF_RANGE)
    better = (level <= turn.down[usual]) & ~(near < rules.NEAR_ENOUGH)
    wanted = ~better[:, None] | (rungs < usual[:, None])
    below = fits & (rungs <= usual[:, None]) & wanted
    easiest = offered.rungs[limits.argmax(axis=1)]  # doses stand easiest variation first
    down = np.where(below.any(axis=1), np.where(below, rungs, -1).max(axis=1), easiest)
    above = np.minimum(usual + 1, count - 1)
    leaps = _leaps(offered, seen, may, limits, usual, turn.shifts)
    ready = ((level >= turn.up[usual]) | leaps) & ~(near > -rules.NEAR_ENOUGH)
    up = ready & fits[members, above] & (down == usual)
    return np.where(up, above, down)


def _leaps(
    offered: Doses, seen: Prospects, may: Mask, limits: Mask, usual: Indices, shifts: Numbers
) -> NDArray[np.bool_]:
    """Whether the next rung holds a dose that is nearer to just right than all on the usual one.

    One class raises an amount by little; where the usual rung would take months, a step up the
    ladder may be just right at once. By how much more a dose takes goes by the plan's demands.
    """
    members = np.arange(len(usual))
    takes = seen.takes + shifts[offered.rungs]
    home = limits & (offered.rungs == usual[:, None])
    most = np.where(home, takes, -np.inf).argmax(axis=1)
    known = home.any(axis=1) & may[members, most]
    missing = seen.spare[members, most] - rules.CAUTION * seen.doubt[members, most]
    more = takes[None, :] - takes[most][:, None]
    next_rung = may & (offered.rungs == usual[:, None] + 1) & (more > rules.WORTH_A_LEAP)
    least = np.where(next_rung, more, np.inf).min(axis=1)
    return np.asarray(known & (least < 2 * missing - rules.WORTH_A_LEAP))


def _against(line: PlanLine, offered: Doses) -> Numbers:
    """What other repetitions or minutes than planned cost, in log strength."""
    if line.movement.measure not in (Measure.LOAD, Measure.MINUTES):
        return np.zeros(len(offered.amount))
    return np.asarray(rules.OTHER_AMOUNT * np.abs(np.log(offered.amount / line.dose.amount)))
