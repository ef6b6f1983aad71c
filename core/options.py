"""At most three options for the room, chosen exactly, so that together they lose least."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

MOST_OPTIONS = 3
"""What an instructor can call out and a room can remember."""

TIE = 9
"""Decimals of loss beyond which two selections count as equally good."""

Losses = NDArray[np.float64]
"""Members by candidates, from zero up; infinite where a member must not do a candidate."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """Which candidates are called out, and who does which."""

    columns: tuple[int, ...]
    """Candidates, in ascending order."""
    assigned: tuple[int, ...]
    """The candidate of each member, in the order of the rows."""
    loss: float
    """Sum over the members, without any price."""


class NobodyServes(ValueError):
    """No selection of so few candidates has something for this member (a row)."""

    def __init__(self, member: int) -> None:
        super().__init__(f"no selection serves member {member}")
        self.member = member


def choose(loss: Losses, most: int = MOST_OPTIONS, price: float = 0.0) -> Choice:
    """The selection of at most `most` (1 to 3) columns with the least total loss, exactly.

    Each option costs `price` (in the unit of the losses), so that one which gains less than that
    isn't called out. Of equally good selections the smaller one counts, then the one whose
    columns come first; the order of the members makes no difference. NobodyServes (a ValueError)
    names a member for whom every selection of that size holds only forbidden candidates.
    """
    members = loss.shape[0]
    if not 1 <= most <= MOST_OPTIONS or np.isnan(loss).any() or (loss < 0).any():
        raise ValueError("losses are numbers from 0 up, and most is 1 to 3")
    if members == 0:
        return Choice(columns=(), assigned=(), loss=0.0)
    _refuse_hopeless(loss)
    kept = _undominated(loss)
    columns = tuple(int(kept[each]) for each in _search(_finite(loss[:, kept], price), most, price))
    best = loss[:, columns].argmin(axis=1)
    total = loss[np.arange(members), np.take(columns, best)]
    if np.isinf(total).any():
        raise NobodyServes(int(np.isinf(total).argmax()))
    assigned = tuple(columns[each] for each in best)
    used = tuple(sorted(set(assigned)))
    return Choice(columns=used, assigned=assigned, loss=float(np.sort(total).sum()))


def _refuse_hopeless(loss: Losses) -> None:
    alone = np.isinf(loss).all(axis=1)
    if alone.any():
        raise NobodyServes(int(alone.argmax()))


def _undominated(loss: Losses) -> NDArray[np.intp]:
    """Columns that no other column matches for every member; of equal columns the first."""
    columns = loss.shape[1]
    at_least = np.array([(loss <= loss[:, [other]]).all(axis=0) for other in range(columns)])
    np.fill_diagonal(at_least, False)  # at_least[a, b]: b is nowhere worse than a
    earlier = np.tri(columns, k=-1, dtype=bool)  # earlier[a, b]: b comes before a
    beaten = at_least & (~at_least.T | earlier)
    return np.flatnonzero(~beaten.any(axis=1))


def _finite(loss: Losses, price: float) -> Losses:
    """Forbidden becomes dearer than all that is allowed; members stand in an order of their own."""
    allowed = np.where(np.isinf(loss), 0.0, loss)
    forbidden = 2 * (allowed.max(axis=1).sum() + MOST_OPTIONS * price + 1)
    finite = np.where(np.isinf(loss), forbidden, loss)
    return np.ascontiguousarray(finite[np.lexsort(finite.T)])


def _search(loss: Losses, most: int, price: float) -> tuple[int, ...]:
    """The best selection of columns; forbidden choices are merely very dear here."""
    ones = loss.sum(axis=0)
    pairs = np.array([np.minimum(loss[:, [each]], loss).sum(axis=0) for each in range(len(ones))])
    found: list[tuple[float, int, tuple[int, ...]]] = [
        (_rounded(ones.min()) + price, 1, (int(np.round(ones, TIE).argmin()),))
    ]
    if most >= 2 and len(ones) >= 2:
        left, right = np.triu_indices(len(ones), k=1)
        best = int(np.round(pairs[left, right], TIE).argmin())
        pair = (int(left[best]), int(right[best]))
        found.append((_rounded(pairs[pair]) + 2 * price, 2, pair))
    if most >= 3 and len(ones) >= 3:
        total, triple = _best_triple(loss, ones, pairs)
        found.append((total + 3 * price, 3, triple))
    return min((_rounded(total), size, columns) for total, size, columns in found)[2]


def _best_triple(loss: Losses, ones: Losses, pairs: Losses) -> tuple[float, tuple[int, int, int]]:
    """The best three columns; only those are added up whose lower bound may still win.

    What a third column gains beside two others is at most what it gains beside one of them, so
    the total of a triple is at least pair + pair - one, for each of its columns as the one.
    """
    columns = len(ones)
    best = _good_triple(loss, pairs)
    for first in range(columns - 2):
        rest = slice(first + 1, columns)
        with_first, among = pairs[first, rest], pairs[rest, rest]
        around_first = with_first[:, None] + with_first[None, :] - ones[first]
        around_second = with_first[:, None] + among - ones[rest, None]
        bound = np.maximum(around_first, np.maximum(around_second, around_second.T))
        slack = 10.0**-TIE * (1 + best[0])  # sums of the same numbers differ in their last digits
        left, right = np.nonzero(np.triu(bound <= best[0] + slack, k=1))
        if left.size:
            beside = np.minimum(loss[:, first + 1 + left], loss[:, first + 1 + right])
            totals = np.round(np.minimum(loss[:, [first]], beside).sum(axis=0), TIE)
            place = int(totals.argmin())
            triple = (first, int(first + 1 + left[place]), int(first + 1 + right[place]))
            best = min(best, (float(totals[place]), triple))
    return best


def _good_triple(loss: Losses, pairs: Losses) -> tuple[float, tuple[int, int, int]]:
    """A bound to start from: the best pair and what goes best with it, improved by exchanges."""
    left, right = np.triu_indices(len(pairs), k=1)
    best = int(pairs[left, right].argmin())
    triple = [int(left[best]), int(right[best]), -1]
    for _ in range(3):
        for place in (2, 0, 1):
            others = [each for at, each in enumerate(triple) if at != place]
            totals = np.minimum(loss[:, others].min(axis=1)[:, None], loss).sum(axis=0)
            totals[others] = np.inf
            triple[place] = int(totals.argmin())
    first, second, third = sorted(triple)
    total = loss[:, [first, second, third]].min(axis=1).sum()
    return _rounded(total), (first, second, third)


def _rounded(total: float) -> float:
    return float(np.round(total, TIE))
