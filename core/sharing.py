"""What the room is called: at most three doses of a movement, and who does which."""

import numpy as np
from numpy.typing import NDArray

from core import rules
from core.doses import Numbers
from core.limits import Mask
from core.options import NobodyServes, choose
from core.plan import PlanLine
from core.prospects import Prospects
from core.reaching import lost_later

OUT_OF_REACH = 5.0
"""What a dose that is too much costs where it is only thought of for later, in classes lost."""


def shared(
    line: PlanLine, seen: Prospects, may: Mask, limits: Mask, own: NDArray[np.int64]
) -> NDArray[np.int64]:
    """What each does when the room is called at most three doses.

    Each dose is weighed by what it loses against the best for this member, in this class and on
    the way back in the classes after it: a dose that is a little too easy now is dear if it takes
    months to come up from.
    """
    rows = np.arange(len(own))
    if not len(rows):
        return own
    loss = _lost(line, seen, may)
    looked = _worth_a_look(np.where(may, loss, np.inf), own)
    price = rules.PRICE_OF_AN_OPTION * len(rows)
    try:
        choice = choose(np.where(may, loss, np.inf)[:, looked], price=price)
    except NobodyServes:  # the limits are never passed; the chance over the ceiling has to give
        choice = choose(np.where(limits, loss + 10 * seen.over, np.inf), price=price)
        return np.array(choice.assigned)
    return np.asarray(looked[np.array(choice.assigned)])


def _lost(line: PlanLine, seen: Prospects, may: Mask) -> Numbers:
    """Chance in range lost against what would be best, now and later; from zero up."""
    thinkable = may | seen.safe
    best = np.where(thinkable, seen.worth, -np.inf).max(axis=1, keepdims=True)
    now = np.maximum(best - seen.worth, 0.0)
    return np.asarray(now + lost_later(line, np.where(thinkable, now, OUT_OF_REACH)))


def _worth_a_look(loss: Numbers, own: NDArray[np.int64]) -> NDArray[np.int64]:
    """Doses that may be among the options: what is best for somebody or good for many.

    With some doses, that everybody may do, among them, so that there is something for everyone.
    """
    good = np.minimum(loss, OUT_OF_REACH).sum(axis=0)
    for_all = np.flatnonzero(np.isfinite(loss).all(axis=0))
    near = np.argsort(good, kind="stable")[: rules.MOST_LOOKED_AT]
    safe = for_all[np.argsort(good[for_all], kind="stable")[:3]]
    found = np.zeros(loss.shape[1], dtype=bool)
    found[own] = found[near] = found[safe] = True
    return np.flatnonzero(found)
