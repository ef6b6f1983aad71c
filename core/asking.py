"""Which movements are worth asking a member about, and when the reserve is worth its tap."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core import people, rules
from core.capacity import Belief, laws
from core.capacity.frame import Place
from core.capacity.laws import Numbers
from core.capacity.readings import normal_cdf, reserve_unit
from core.plan import PlanLine
from core.suggestion import Ask


@dataclass(frozen=True, slots=True, kw_only=True)
class Next:
    """What is about to be done of one movement, one entry per member."""

    rungs: NDArray[np.int64]
    strength: Numbers
    """Believed log strength left at the suggested variation."""
    amount: Numbers
    load: Numbers
    due: NDArray[np.bool_]
    """Whether nothing was told yet of the variation to come, or what was told last was maximal."""


def asks(
    belief: Belief, coming: dict[str, Next], members: tuple[str, ...], ask: int
) -> tuple[Ask, ...]:
    """For each member, at most so many movements (never more than three), most useful first.

    An answer is worth what it adds to the chance to land in range, on this movement and through
    the belief on all others. A variation that wasn't told of when the movement last was, and what
    was maximal, come first: the one isn't known, the other mustn't get harder until it's told of
    again. How faithfully somebody answers
    plays no part. `coming` is by movement.
    """
    most = min(max(ask, 0), rules.MOST_ASKED, len(coming))
    chosen, reserve = _choose(belief, coming, most)
    names = [each.movement.name for each in belief.frame.places]
    by_member = {
        member: Ask(
            member=member,
            movements=tuple(names[at] for at in chosen[row]),
            reserve=tuple(
                names[at]
                for at, worth in zip(chosen[row], reserve[row], strict=True)
                if worth >= rules.WORTH_A_TAP
            ),
        )
        for row, member in enumerate(belief.members)
    }
    return tuple(by_member[member] for member in members)


def _choose(
    belief: Belief, coming: dict[str, Next], most: int
) -> tuple[NDArray[np.int64], Numbers]:
    """Indices of movements and the worth of a reserve question for each; (members, most)."""
    state = _State(belief, coming)
    places = range(len(belief.frame.places))
    count = len(belief.members)
    chosen = np.zeros((count, most), dtype=np.int64)
    reserve = np.zeros((count, most))
    taken = np.zeros((count, len(places)), dtype=np.bool_)
    for turn in range(most):
        gains = np.stack([state.gain(at, rating=True) for at in places], axis=1)
        gains = np.where(taken, -np.inf, gains + rules.ASK_FIRST * state.due)
        chosen[:, turn] = gains.argmax(axis=1)
        taken[np.arange(count), chosen[:, turn]] = True
        state.suppose(chosen[:, turn], rating=True)
        for at in places:
            asked = chosen[:, turn] == at
            reserve[asked, turn] = state.gain(at, rating=False)[asked]
        state.suppose(chosen[:, turn], rating=False)
    return chosen, reserve


class _State:
    """Covariances of everybody's numbers at the coming doses, and what answers would do to them."""

    def __init__(self, belief: Belief, coming: dict[str, Next]) -> None:
        places = belief.frame.places
        shared = np.einsum("nig,gh->nih", belief.pull, belief.group_cov)
        self.cov = belief.cov + np.einsum("nih,njh->nij", shared, belief.pull)
        nexts = [coming[each.movement.name] for each in places]
        self.due = np.stack([each.due for each in nexts], axis=1)
        self.day = np.array([each.day_sd for each in places])
        self.half = np.array([_half(each.line) for each in places])
        self.noise = belief.rating_sd**2
        pairs = list(zip(places, nexts, strict=True))
        self.slope = np.stack([_slope(place, each) for place, each in pairs], axis=1)
        self.left = np.stack([_left(place, each) for place, each in pairs], axis=1)
        self.weights = np.stack(
            [place.weights(each.rungs, belief.frame.size) for place, each in pairs], axis=1
        )

    def gain(self, at: int, *, rating: bool) -> Numbers:
        """What an answer about this movement adds to the chances in range, summed."""
        return np.asarray(self._loss(self.cov) - self._loss(self._after(self.cov, at, rating)))

    def suppose(self, chosen: NDArray[np.int64], *, rating: bool) -> None:
        """Go on as if each had answered about the movement chosen for them."""
        for at in range(len(self.day)):
            after = self._after(self.cov, at, rating)
            self.cov = np.where((chosen == at)[:, None, None], after, self.cov)

    def _after(self, cov: Numbers, at: int, rating: bool) -> Numbers:
        weights = self.weights[:, at].copy()
        if rating:
            weights *= self.slope[:, at, None]
            weights[:, -1] = 1.0
        along = np.einsum("nij,nj->ni", cov, weights)
        rated = self.noise + (self.slope[:, at] * self.day[at]) ** 2
        total = np.einsum("ni,ni->n", along, weights) + (rated if rating else self.left[:, at])
        return np.asarray(cov - along[:, :, None] * along[:, None, :] / total[:, None, None])

    def _loss(self, cov: Numbers) -> Numbers:
        """Chance to land outside the range, summed over the movements."""
        own = np.einsum("nmi,nmi->nm", self.weights @ cov, self.weights)
        sd = np.sqrt(np.maximum(own, 0.0) + self.day**2)
        return np.asarray((2 * normal_cdf(-self.half / sd)).sum(axis=1))


def _slope(place: Place, coming: Next) -> Numbers:
    return np.maximum(
        laws.slope(place.measure, coming.amount, coming.load, coming.strength),
        laws.slope(
            place.measure,
            coming.amount,
            coming.load,
            laws.strength_at(place.measure, coming.amount, coming.load, np.full(1, 10.0)),
        ),
    )


def _left(place: Place, coming: Next) -> Numbers:
    """Noise variance of a reserve told of the coming dose."""
    most = laws.possible(place.measure, coming.strength, coming.load)
    left = np.clip(most - coming.amount, 0.0, 3 * coming.amount)
    unit = reserve_unit(place, coming.amount)
    error = people.RESERVE_SD[0] * unit + people.RESERVE_SD[1] * left
    possible = coming.amount + left
    step = laws.strength(place.measure, possible + error, coming.load) - laws.strength(
        place.measure, possible, coming.load
    )
    return np.asarray(step**2 + place.day_sd**2)


def _half(line: PlanLine) -> float:
    """Half the width of the range at the planned dose, in log strength."""
    amount, load = np.array([line.dose.amount]), np.array([line.dose.load or 1.0])

    def needed(effort: float) -> float:
        return float(laws.strength_at(line.movement.measure, amount, load, np.array([effort]))[0])

    low = max(line.target - rules.HALF_RANGE, 0.5)
    return (needed(low) - needed(min(line.target + rules.HALF_RANGE, 10.0))) / 2
