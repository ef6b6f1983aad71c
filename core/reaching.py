"""Which doses may follow which, and what is lost on the way to where people belong."""

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from core.doses import Doses, Numbers, doses
from core.limits import raised_a_little
from core.plan import PlanLine

CLASSES_AHEAD = 8
"""Classes looked ahead; in so many an amount can double. Our own choice."""
NEXT_CLASS_COUNTS = 0.85
"""Share of its weight that each class further ahead keeps. Our own choice: in simulated rooms
anything from 0.8 to 0.9 gives the same."""


def lost_later(line: PlanLine, lost: Numbers) -> Numbers:
    """What each dose costs in the classes after it, if all goes well; (members, doses).

    `lost` is what each dose costs in the class in which it is done. Since one class may raise a
    movement by little, who does much less than they can needs many classes to come back; this is
    worked out backwards from the last class looked at (Bellman 1957, Dynamic Programming).
    """
    corners = _hardest_next(line)
    later = np.zeros_like(lost)
    for _ in range(CLASSES_AHEAD):
        cost = lost + NEXT_CLASS_COUNTS * later
        later = _least_up_to(doses(line), cost)[:, corners].min(axis=2)
    return NEXT_CLASS_COUNTS * later


def may_follow(line: PlanLine) -> NDArray[np.bool_]:
    """Whether the limits let the second dose follow the first, done in full; (doses, doses)."""
    offered = doses(line)
    return np.array(
        [
            raised_a_little(line, offered.dose(at), float(amount))
            for at, amount in enumerate(offered.amount)
        ]
    )


def _least_up_to(offered: Doses, cost: Numbers) -> Numbers:
    """The least cost of all doses on the same rung with no more of it, in amount and load."""
    on_grid = cost.reshape(len(cost), *_grid(offered))
    least = np.minimum.accumulate(np.minimum.accumulate(on_grid, axis=3), axis=2)
    return np.asarray(least.reshape(cost.shape))


@lru_cache(maxsize=256)
def _hardest_next(line: PlanLine) -> NDArray[np.int64]:
    """For each dose those that may follow and beside which nothing harder on their rung may.

    What may follow is all up to these; (doses, as many as any dose has), the first repeated.
    """
    offered = doses(line)
    may = may_follow(line)
    on_grid = np.pad(may.reshape(-1, *_grid(offered)), ((0, 0), (0, 0), (0, 1), (0, 1)))
    harder = on_grid[:, :, 1:, :-1] | on_grid[:, :, :-1, 1:]
    corners = may & ~harder.reshape(may.shape)
    most = int(corners.sum(axis=1).max())
    order = np.argsort(~corners, axis=1, kind="stable")[:, :most]
    found = np.where(np.take_along_axis(corners, order, axis=1), order, order[:, :1])
    found.setflags(write=False)
    return found


def _grid(offered: Doses) -> tuple[int, int, int]:
    """How many rungs, loads and amounts; that's how the doses stand in a row."""
    amounts = len(set(offered.amount.tolist()))
    rungs = len(offered.names)
    return rungs, len(offered.amount) // (rungs * amounts), amounts
