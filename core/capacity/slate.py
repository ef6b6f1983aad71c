"""The working copy of a belief: it absorbs one session's sightings, then is a belief again."""

from dataclasses import dataclass, replace

import numpy as np

from core.capacity.belief import Belief
from core.capacity.evidence import Work
from core.capacity.frame import Place
from core.capacity.laws import Numbers, Rows
from core.capacity.readings import Doubt


@dataclass(frozen=True, slots=True, kw_only=True)
class Sighting:
    """One kind of answer from some members, as weights · numbers + noise; one entry per member."""

    rows: Rows
    weights: Numbers
    """How what was seen hangs on a member's numbers; (rows, numbers)."""
    follows: Numbers
    """How it follows the group's numbers; (rows, group)."""
    surprise: Numbers
    """How far it is from what was expected before the session."""
    noise: Numbers
    """Variance."""
    says: int
    """What a larger surprise says of the member: 1 that they are stronger, -1 that they are weaker,
    0 if it isn't an answer."""


@dataclass(slots=True, kw_only=True)
class Slate:
    """Copies of a belief's arrays, and how each sighting has moved them.

    All sightings of a session are seen from the belief before it, so that what they teach together
    is linear in their surprises, with factors that don't depend on what was answered.
    """

    belief: Belief
    moved: Numbers
    """How far each member's numbers have moved; (members, numbers)."""
    cov: Numbers
    pull: Numbers
    group_precision: Numbers
    """What has been learned of the group's numbers since, as a precision ..."""
    group_push: Numbers
    """... and as that precision times where it points to, relative to the belief's mean."""
    traces: list["_Trace"]

    def seen_through(self, rows: Rows, rungs: Rows, place: Place, weights: Numbers) -> Numbers:
        """How the strength left at these rungs follows the group's numbers; (rows, group)."""
        pull: Numbers = np.einsum("nk,nkg->ng", weights, self.belief.pull[rows])
        corrections = np.array(place.corrections)[rungs]
        known = np.flatnonzero(corrections >= 0)
        pull[known, corrections[known]] -= 1.0
        return pull

    def strength(self, rows: Rows, rungs: Rows, place: Place) -> Numbers:
        """Mean log strength left at these rungs before the session."""
        belief = self.belief
        corrections = np.array(place.corrections)[rungs]
        corrected = np.where(corrections >= 0, belief.group_mean[corrections], 0.0)
        weights = place.weights(rungs, belief.mean.shape[1])
        own = np.einsum("nk,nk->n", weights, belief.mean[rows])
        return np.asarray(own - np.array(place.shifts)[rungs] - corrected)

    def doubt(self, place: Place, done: Work) -> Doubt:
        """What is believed before the session, with all doubt about the group."""
        belief, rows = self.belief, done.rows
        weights = place.weights(done.rungs, self.moved.shape[1])
        follows = self.seen_through(rows, done.rungs, place, weights)
        of_bias = belief.pull[rows, -1]
        own = np.einsum("nij,nj->ni", belief.cov[rows], weights)
        shared = follows @ belief.group_cov
        return Doubt(
            strength=self.strength(rows, done.rungs, place),
            variance=np.einsum("ni,ni->n", own, weights) + np.einsum("ng,ng->n", shared, follows),
            bias=belief.mean[rows, -1],
            shared=own[:, -1] + np.einsum("ng,ng->n", shared, of_bias),
            bias_variance=belief.cov[rows, -1, -1]
            + np.einsum("ng,gh,nh->n", of_bias, belief.group_cov, of_bias),
        )

    def absorb(self, seen: Sighting) -> None:
        """Take in one number per row."""
        rows, weights = seen.rows, seen.weights
        cov, pull = self.cov[rows], self.pull[rows]
        follows = seen.follows - np.einsum(
            "nk,nkg->ng", weights, self.belief.pull[rows] - pull
        )  # what is left of it after the sightings before
        along = np.einsum("nij,nj->ni", cov, weights)
        variance = np.einsum("ni,ni->n", along, weights) + seen.noise
        gain = along / variance[:, None]
        surprise = seen.surprise - np.einsum("nk,nk->n", weights, self.moved[rows])
        for trace in self.traces:
            trace.pass_on(rows, weights, gain, follows, variance)
        if seen.says:
            self.traces.append(_trace(self, seen, gain, follows / variance[:, None]))
        self.cov[rows] = cov - gain[:, :, None] * along[:, None, :]
        self.moved[rows] += gain * surprise[:, None]
        self.pull[rows] -= gain[:, :, None] * follows[:, None, :]
        self.group_precision += np.einsum("ng,nh->gh", follows / variance[:, None], follows)
        self.group_push += np.einsum("ng,n->g", follows, surprise / variance)

    def settled(self) -> Belief:
        """The belief after all that: what the group has learned moves everybody."""
        precision = np.linalg.inv(self.belief.group_cov) + self.group_precision
        cov = np.linalg.inv(precision)
        cov = (cov + cov.T) / 2
        moved = cov @ self.group_push
        mean = self.belief.mean + self.moved + self.pull @ moved
        own = self.cov.copy()
        for trace in self.traces:
            back = trace.wrong_way(self, cov)
            rows = trace.seen.rows
            mean[rows] -= back * trace.seen.surprise[:, None]
            own[rows] += back[:, :, None] * back[:, None, :] * trace.spread[:, None, None]
        return replace(
            self.belief,
            mean=mean,
            cov=(own + own.transpose(0, 2, 1)) / 2,
            pull=self.pull,
            group_mean=self.belief.group_mean + moved,
            group_cov=cov,
        )


@dataclass(slots=True, kw_only=True)
class _Trace:
    """What one sighting has moved, per point of its surprise, in the numbers and in the group."""

    seen: Sighting
    effect: Numbers
    """(members, numbers)"""
    push: Numbers
    """(members, group's numbers)"""
    spread: Numbers
    """Variance of the surprise; one entry per row of the sighting."""

    def pass_on(
        self, rows: Rows, weights: Numbers, gain: Numbers, follows: Numbers, variance: Numbers
    ) -> None:
        """Another sighting is absorbed, whose surprise is the smaller for what this one moved."""
        expected = np.einsum("nk,nk->n", weights, self.effect[rows])
        self.effect[rows] -= gain * expected[:, None]
        self.push[rows] -= follows * (expected / variance)[:, None]

    def wrong_way(self, slate: Slate, group_cov: Numbers) -> Numbers:
        """What is left out, so that no answer makes its own member look better by being worse.

        Per point of surprise; (rows, numbers). A high rating may say more of how somebody rates
        than of what they can do, and then the arithmetic finds them stronger for it, at the same
        movement or at another. By so much the strength is taken back; the factor depends on no
        answer, so that of any two answers the one that says weaker also leaves the member weaker,
        at every variation of every movement.
        """
        rows = self.seen.rows
        group = self.push[rows] @ group_cov
        own = self.effect[rows] + np.einsum("nkg,ng->nk", slate.pull[rows], group)
        back = np.zeros_like(own)
        for place in slate.belief.frame.places:
            rungs = np.arange(len(place.shifts))
            left = own @ place.weights(rungs, own.shape[1]).T
            corrections = np.array(place.corrections)
            known = np.flatnonzero(corrections >= 0)
            left[:, known] -= group[:, corrections[known]]
            back[:, place.at] = np.minimum((self.seen.says * left).min(axis=1), 0.0)
        return np.asarray(self.seen.says * back)


def _trace(slate: Slate, seen: Sighting, gain: Numbers, push: Numbers) -> _Trace:
    effect, pushed = np.zeros_like(slate.moved), np.zeros(slate.pull[:, 0].shape)
    effect[seen.rows], pushed[seen.rows] = gain, push
    belief = slate.belief
    own = np.einsum("ni,nij,nj->n", seen.weights, belief.cov[seen.rows], seen.weights)
    shared = np.einsum("ng,gh,nh->n", seen.follows, belief.group_cov, seen.follows)
    return _Trace(seen=seen, effect=effect, push=pushed, spread=own + shared + seen.noise)


def slate(belief: Belief) -> Slate:
    """A working copy of a belief."""
    size = belief.frame.group_size
    return Slate(
        belief=belief,
        moved=np.zeros_like(belief.mean),
        cov=belief.cov.copy(),
        pull=belief.pull.copy(),
        group_precision=np.zeros((size, size)),
        group_push=np.zeros(size),
        traces=[],
    )
