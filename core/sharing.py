"""What the room is called: at most three doses of a movement, and who does which."""

import numpy as np
from numpy.typing import NDArray

from core import rules
from core.deciding import Prospects
from core.limits import Mask
from core.options import NobodyServes, choose


def shared(seen: Prospects, may: Mask, limits: Mask, own: NDArray[np.int64]) -> NDArray[np.int64]:
    """What each does when the room is called at most three doses."""
    rows = np.arange(len(own))
    if not len(rows):
        return own
    loss = np.maximum(seen.worth[rows, own][:, None] - seen.worth, 0.0)
    looked = _worth_a_look(np.where(may, loss, np.inf), own)
    price = rules.PRICE_OF_AN_OPTION * len(rows)
    try:
        choice = choose(np.where(may, loss, np.inf)[:, looked], price=price)
    except NobodyServes:  # the limits are never passed; the chance over the ceiling has to give
        choice = choose(np.where(limits, loss + 10 * seen.over, np.inf), price=price)
        return np.array(choice.assigned)
    return np.asarray(looked[np.array(choice.assigned)])


def _worth_a_look(loss: NDArray[np.float64], own: NDArray[np.int64]) -> NDArray[np.int64]:
    """Doses that may be among the options: what is best for somebody or good for many.

    With some doses, that everybody may do, among them, so that there is something for everyone.
    """
    good = np.minimum(loss, 1.0).sum(axis=0)
    for_all = np.flatnonzero(np.isfinite(loss).all(axis=0))
    near = np.argsort(good, kind="stable")[: rules.MOST_LOOKED_AT]
    safe = for_all[np.argsort(good[for_all], kind="stable")[:3]]
    return np.unique(np.concatenate([own, near, safe]))
