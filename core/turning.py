"""Which rung of the ladder each does next: the usual one, or the next one up or down."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core import rules
from core.doses import Doses, Numbers
from core.limits import Mask
from core.plan import PlanLine
from core.prospects import Prospects

Indices = NDArray[np.int64]
NOTHING = -9.0
"""Worth of a rung that holds nothing that may be done."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Within:
    """What each member may do; shape (members, doses) throughout."""

    may: Mask
    """Within the limits, and safe."""
    limits: Mask
    """Within the limits."""
    whole: Mask
    """Within the limits had they done all of their last dose, so that to stop early moves nothing
    up by leaving less to compare with."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Rungs:
    """What each rung has for each member, within the limits; shape (members, rungs) throughout."""

    fits: Mask
    """Whether there is something safe, and something that isn't too hard."""
    hardest: Numbers
    """Expected effort of the hardest dose."""
    rising: Numbers
    """Worth of the best safe dose to who isn't too strong for it; rises with strength."""
    falling: Numbers
    """Worth of the best dose to who is strong enough for it; falls with strength."""


def rungs(
    line: PlanLine,
    offered: Doses,
    seen: Prospects,
    within: Within,
    usual: Indices,
    near: Numbers,
) -> Indices:
    """The rung for each: the usual one, or a neighbour that has clearly more to offer next time.

    What counts is what the limits leave for the next class: all that may be done of the usual
    variation can be too easy for months where one step up is right at once. A rung that would be
    an easing is compared by what only falls with strength and the usual one by what only rises,
    and the other way round for going up, so that who is stronger never ends on a lower rung.

    `near` is by how much the last dose is too hard, in points; not a number if there is none. Who
    found it too easy isn't sent down, and who found it too hard not up.
    """
    members, every = np.arange(len(usual)), np.arange(len(offered.names))
    has = _has(line, offered, seen, within)
    under, above = np.maximum(usual - 1, 0), np.minimum(usual + 1, len(every) - 1)
    less = has.falling[members, under] - has.rising[members, usual]
    lower = (under < usual) & (less >= rules.EASIER_VARIATION) & ~(near < rules.NEAR_ENOUGH)
    below = has.fits & (every <= (usual - lower)[:, None])
    least = offered.rungs[within.limits.argmax(axis=1)]  # doses stand easiest variation first
    down = np.where(below.any(axis=1), np.where(below, every, -1).max(axis=1), least)
    more = has.rising[members, above] - has.falling[members, usual]
    ready = (more >= rules.HARDER_VARIATION) & ~(near > -rules.NEAR_ENOUGH)
    ready &= (has.hardest[members, usual] < line.target) & has.fits[members, above]
    return np.where(ready & (down == usual), above, down)


def _has(line: PlanLine, offered: Doses, seen: Prospects, within: Within) -> _Rungs:
    at = [offered.rungs == rung for rung in range(len(offered.names))]

    def most(values: Numbers, among: Mask, nothing: float) -> Numbers:
        best = [np.where(among & there, values, nothing).max(axis=1) for there in at]
        return np.stack(best, axis=1)

    easiest = -most(-seen.effort, within.limits, -np.inf)
    possible = np.stack([(within.may & there).any(axis=1) for there in at], axis=1)
    return _Rungs(
        fits=possible & (easiest <= line.target + rules.HALF_RANGE),
        hardest=most(seen.effort, within.whole, -np.inf),
        rising=most(seen.rising, within.may, NOTHING),
        falling=most(seen.falling, within.whole, NOTHING),
    )
