"""The few numbers on which the answers about one session hang."""

from dataclasses import dataclass

import numpy as np

from core.capacity.belief import Belief
from core.capacity.chances import bout_chance, felt_on_the_day, rating_chance
from core.capacity.evidence import Work
from core.capacity.feeling import Worked, felt_together, movements_done
from core.capacity.frame import Place
from core.capacity.laws import Numbers, Rows
from core.capacity.readings import class_rating_variance
from core.capacity.slate import slate

SMALL = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Bearing:
    """Some numbers of each member, and how they hang on those that are believed.

    In order: the strengths on the day in what was told of, by slot; the bias; and what the rest of
    the class felt like, as a sum of points, less what was expected. A slot that somebody didn't
    use holds a number that hangs on nothing. Shapes begin with (rows, ...).
    """

    rows: Rows
    """Members who said anything."""
    mean: Numbers
    """(rows, d)"""
    weights: Numbers
    """How they hang on a member's numbers; (rows, d, numbers)."""
    follows: Numbers
    """How they follow the group's; (rows, d, group's numbers)."""
    noise: Numbers
    """Variance besides what is believed; (rows, d)."""
    told: tuple[tuple[Place, int, Rows, Work], ...]
    """For each movement and slot: where in `rows` those stand who told of it, and what they did."""
    whole: Numbers
    """Rating of the whole class; not a number if there is none; (rows,)."""
    rest: Numbers
    """Effort expected of the movements that weren't told of, summed; (rows,)."""
    count: Numbers
    """How many movements they did, as far as is known; (rows,)."""
    rating_sd: Numbers
    class_sd: Numbers

    @property
    def bias(self) -> int:
        """Where the bias stands."""
        return int(self.mean.shape[1]) - 2

    def spread(self, belief: Belief) -> tuple[Numbers, Numbers]:
        """Covariance with a member's numbers, (rows, numbers, d), and of these, (rows, d, d)."""
        along = belief.cov[self.rows] @ self.weights.transpose(0, 2, 1)
        own = self.weights @ along
        at = np.arange(self.mean.shape[1])
        own[:, at, at] += self.noise
        return along, own

    def chance(self, at: Numbers) -> Numbers:
        """Log chance of all that was said where the numbers are these; (rows, points, d)."""
        found = np.zeros(at.shape[:2])
        felt = self.rest[:, None] + at[:, :, -1]
        bias = at[:, :, self.bias]
        for place, slot, those, done in self.told:
            strength, sd = at[those, :, slot], self.rating_sd[those]
            of_it = felt_on_the_day(place, done, strength)
            felt[those] += of_it
            found[those] += bout_chance(place, done, strength, of_it, bias[those], sd)
        rated = ~np.isnan(self.whole)
        meant = np.clip(felt[rated] / self.count[rated, None], 0.0, 10.0) + bias[rated]
        found[rated] += np.log(
            rating_chance(self.whole[rated, None], meant, self.class_sd[rated, None])
        )
        return found


def bearing(
    belief: Belief, told: list[Worked], others: list[Worked], whole: Numbers
) -> Bearing | None:
    """What these answers hang on, as seen from a belief; None if there are none.

    `told` is what was told of, by movement; `others` what else was done; `whole` the rating of the
    whole class by member, not a number where there is none.
    """
    members, seen, slots = len(belief.members), slate(belief), slots_of(told, len(belief.members))
    count = movements_done([*told, *others], members)
    whole = np.where(count > 0, whole, np.nan)
    used = ~np.isnan(whole)
    for _, done in told:
        used[done.rows] = True
    if not used.any():
        return None
    d = max((int(each.max()) + 1 for each in slots if len(each)), default=0) + 2
    mean, noise = np.zeros((members, d)), np.ones((members, d))
    weights = np.zeros((members, d, belief.frame.size))
    follows = np.zeros((members, d, belief.frame.group_size))
    mean[:, -2], noise[:, -2] = belief.mean[:, -1], 0.0
    weights[:, -2, -1], follows[:, -2] = 1.0, belief.pull[:, -1]
    for (place, done), slot in zip(told, slots, strict=True):
        rows = done.rows
        mean[rows, slot] = seen.strength(rows, done.rungs, place)
        weights[rows, slot] = place.weights(done.rungs, belief.frame.size)
        follows[rows, slot] = seen.seen_through(rows, done.rungs, place, weights[rows, slot])
        noise[rows, slot] = place.day_sd**2
    rated = ~np.isnan(whole)
    rest = felt_together(seen, [(place, done.only(rated[done.rows])) for place, done in others])
    weights[:, -1], follows[:, -1] = rest.weights, rest.follows
    noise[rated, -1] = SMALL + rest.noise[rated]
    rows = np.flatnonzero(used)
    at = np.cumsum(used) - 1
    heard = np.maximum(count[rows], 1.0)
    return Bearing(
        rows=rows,
        mean=mean[rows],
        weights=weights[rows],
        follows=follows[rows],
        noise=noise[rows],
        told=tuple(
            (place, number, at[done.rows[slot == number]], done.only(slot == number))
            for (place, done), slot in zip(told, slots, strict=True)
            for number in sorted(set(slot.tolist()))
        ),
        whole=whole[rows],
        rest=rest.expected[rows],
        count=heard,
        rating_sd=belief.rating_sd[rows],
        class_sd=np.sqrt(class_rating_variance(heard, len(belief.frame.places))),
    )


def slots_of(told: list[Worked], members: int) -> list[Rows]:
    """For each movement, which of their slots each member's answer takes: the first free one."""
    taken = np.zeros(members, dtype=np.int64)
    slots = []
    for _, done in told:
        slots.append(taken[done.rows])
        taken[done.rows] += 1
    return slots
