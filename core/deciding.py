"""Which dose is best for each member: the decision itself.

The decision is built so that who seems weaker at equal doubt is never given more: each step is a
threshold or a nearest dose on an ordered set, and both follow what is believed in one direction.
"""

import numpy as np

from core import rules
from core.doses import Doses, Numbers
from core.limits import Mask
from core.movement import Measure
from core.plan import PlanLine
from core.prospects import Prospects
from core.turning import Indices, Within, rungs


def permitted(offered: Doses, seen: Prospects, limits: Mask, usual: Indices) -> Mask:
    """Within the limits and the chance over the ceiling, and so is whatever takes less.

    That chance is smaller above the rung that each is used to. And always the easiest that the
    limits leave: there must be something.
    """
    safe = np.zeros_like(limits)
    for rung in range(len(offered.names)):
        there = np.flatnonzero(offered.rungs == rung)
        order = there[np.argsort(seen.takes[there], kind="stable")]
        above = (rung > usual)[:, None]
        small = seen.over[:, order] <= rules.CHANCE_ON_HARDER_VARIATION
        small = np.where(above, small, seen.safe[:, order])
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
    within: Within,
    usual: Indices,
    last: Indices,
) -> Indices:
    """Each member's best dose, as an index into the offered ones.

    `usual` is the rung that each is used to; `last` the index of the dose that each last did, -1
    if there is none on offer. The last dose stays while it's near enough to the target. Else a
    dose on the usual rung that goes in the right direction; another rung only where that has more
    to offer, or where the usual one has nothing that is safe and easy enough.
    """
    members, may = np.arange(len(usual)), within.may
    near = seen.effort[members, last] - line.target
    known = (last >= 0) & within.limits[members, last]
    stays = known & may[members, last] & (np.abs(near) <= rules.NEAR_ENOUGH)
    wanted = _in_the_right_direction(offered, seen, may, usual, np.where(known, last, -1), near)
    rung = rungs(line, offered, seen, within, usual, np.where(known, near, np.nan))
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


def _against(line: PlanLine, offered: Doses) -> Numbers:
    """What other repetitions or minutes than planned cost, in log strength."""
    if line.movement.measure not in (Measure.LOAD, Measure.MINUTES):
        return np.zeros(len(offered.amount))
    return np.asarray(rules.OTHER_AMOUNT * np.abs(np.log(offered.amount / line.dose.amount)))
