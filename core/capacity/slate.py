"""The working copy of a belief: it absorbs observations, then becomes a belief again."""

from dataclasses import dataclass, replace

import numpy as np

from core.capacity.belief import Belief
from core.capacity.frame import Place
from core.capacity.laws import Numbers, Rows


@dataclass(slots=True, kw_only=True)
class Slate:
    """Copies of a belief's arrays, and what the group learns in the meantime."""

    belief: Belief
    mean: Numbers
    cov: Numbers
    pull: Numbers
    group_precision: Numbers
    """What has been learned of the group's numbers since, as a precision ..."""
    group_push: Numbers
    """... and as that precision times where it points to, relative to the belief's mean."""

    def seen_through(self, rows: Rows, rungs: Rows, place: Place, weights: Numbers) -> Numbers:
        """How the strength left at these rungs follows the group's numbers; (rows, group)."""
        pull: Numbers = np.einsum("nk,nkg->ng", weights, self.pull[rows])
        corrections = np.array(place.corrections)[rungs]
        known = np.flatnonzero(corrections >= 0)
        pull[known, corrections[known]] -= 1.0
        return pull

    def strength(self, rows: Rows, rungs: Rows, place: Place) -> Numbers:
        """Mean log strength left at these rungs."""
        corrections = np.array(place.corrections)[rungs]
        corrected = np.where(corrections >= 0, self.belief.group_mean[corrections], 0.0)
        weights = place.weights(rungs, self.mean.shape[1])
        own = np.einsum("nk,nk->n", weights, self.mean[rows])
        return np.asarray(own - np.array(place.shifts)[rungs] - corrected)

    def absorb(
        self,
        rows: Rows,
        weights: Numbers,
        follows: Numbers,
        surprise: Numbers,
        noise: Numbers,
        *,
        rating: bool,
    ) -> None:
        """Take in one number per row: weights · numbers + noise, seen as this much of a surprise.

        `weights` (rows, numbers); `follows` (rows, group) is how what was seen follows the group's
        numbers. A rating above what was expected never makes anybody stronger at anything: where
        the arithmetic says so (since it may be only their way of rating), that part is left out.
        """
        cov = self.cov[rows]
        along = np.einsum("nij,nj->ni", cov, weights)
        variance = np.einsum("ni,ni->n", along, weights) + noise
        gain = along / variance[:, None]
        if rating:
            gain[:, :-1] = np.minimum(gain[:, :-1], 0.0)  # never stronger for a higher rating
        crossed = gain[:, :, None] * along[:, None, :]
        self.cov[rows] = (
            cov
            - crossed
            - crossed.transpose(0, 2, 1)
            + variance[:, None, None] * gain[:, :, None] * gain[:, None, :]
        )
        self.mean[rows] += gain * surprise[:, None]
        self.pull[rows] -= gain[:, :, None] * follows[:, None, :]
        self.group_precision += np.einsum("ng,nh->gh", follows / variance[:, None], follows)
        self.group_push += np.einsum("ng,n->g", follows, surprise / variance)

    def settled(self) -> Belief:
        """The belief after all that: what the group has learned moves everybody."""
        precision = np.linalg.inv(self.belief.group_cov) + self.group_precision
        cov = np.linalg.inv(precision)
        cov = (cov + cov.T) / 2
        moved = cov @ self.group_push
        return replace(
            self.belief,
            mean=self.mean + self.pull @ moved,
            cov=self.cov,
            pull=self.pull,
            group_mean=self.belief.group_mean + moved,
            group_cov=cov,
        )


def slate(belief: Belief) -> Slate:
    """A working copy of a belief."""
    size = belief.frame.group_size
    return Slate(
        belief=belief,
        mean=belief.mean.copy(),
        cov=belief.cov.copy(),
        pull=belief.pull.copy(),
        group_precision=np.zeros((size, size)),
        group_push=np.zeros(size),
    )
