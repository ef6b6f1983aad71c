"""One session's answers weighed as a whole, as exactly as a normal belief can hold them."""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from core.capacity.bearing import Bearing, bearing, slots_of
from core.capacity.belief import Belief
from core.capacity.feeling import Worked
from core.capacity.laws import Numbers
from core.capacity.points import points

ROUNDS = 3
"""Times that the points are laid out, each time around what was found with the last ones."""
WIDER = 2.0
"""How much wider than what was found they lie, as a factor of the covariance."""
LEAST_OF_BEFORE = 0.1
"""Share of the covariance before the session that they cover at least."""
MOST_AT_ONCE = 3
"""Movements of one member weighed at once; more than these are weighed after them."""
SURE = 1e-5
"""Least share of a variance that one session may leave."""


def weigh(
    belief: Belief, learned: Belief, told: list[Worked], others: list[Worked], whole: Numbers
) -> Belief:
    """The belief after one session.

    All that was said hangs on few numbers: what somebody could do that day of the movements that
    they told of, how they rate, and what the rest of the class was like. The posterior's mean and
    covariance over these are worked out by importance sampling at points that are always the same,
    and all other numbers follow by regression (assumed-density filtering: Maybeck 1982, Stochastic
    Models, Estimation and Control 2; Minka 2001). `learned` is what is believed after it by
    simpler means, where the points begin. Costs the same however long the history is.
    """
    for now, later in _in_turn(told, len(belief.members)):
        on = bearing(belief, now, [*later, *others], whole)
        if on is not None:
            belief = _after(belief, on, *_moments(belief, learned, on))
        others, whole = [], np.full_like(whole, np.nan)
    return belief


def _in_turn(told: list[Worked], members: int) -> Iterator[tuple[list[Worked], list[Worked]]]:
    """What is weighed at once, and what after it; once at least, for the class as a whole."""
    slots = slots_of(told, members)
    most = max((int(each.max()) for each in slots if len(each)), default=0)
    for first in range(0, most + 1, MOST_AT_ONCE):
        turns = [
            (place, done, slot - first) for (place, done), slot in zip(told, slots, strict=True)
        ]
        yield (
            [(place, done.only((at >= 0) & (at < MOST_AT_ONCE))) for place, done, at in turns],
            [(place, done.only(at >= MOST_AT_ONCE)) for place, done, at in turns],
        )


def _moments(belief: Belief, learned: Belief, on: Bearing) -> tuple[Numbers, Numbers]:
    """Mean and covariance of the numbers that the answers hang on, given the answers."""
    spread = _in_all(belief, on)
    root = np.linalg.inv(np.linalg.cholesky(spread))
    mean, cov = _begin(belief, learned, on)
    at, density = points(on.mean.shape[1])
    for _ in range(ROUNDS):
        out = np.linalg.cholesky(WIDER * cov + LEAST_OF_BEFORE * spread)
        here = mean[:, None] + at @ out.transpose(0, 2, 1)
        before = (here - on.mean[:, None]) @ root.transpose(0, 2, 1)
        chance = on.chance(here) - 0.5 * (before**2).sum(axis=2) - density
        share = np.exp(chance - chance.max(axis=1, keepdims=True))
        share /= share.sum(axis=1, keepdims=True)
        mean = (share[:, None] @ here)[:, 0]
        apart = here - mean[:, None]
        cov = (share[:, :, None] * apart).transpose(0, 2, 1) @ apart
    return mean, cov


def _in_all(belief: Belief, on: Bearing) -> Numbers:
    """Covariance of the numbers that the answers hang on, with all doubt about the group."""
    return on.spread(belief)[1] + on.follows @ belief.group_cov @ on.follows.transpose(0, 2, 1)


def _begin(belief: Belief, learned: Belief, on: Bearing) -> tuple[Numbers, Numbers]:
    """Where these numbers are believed to lie by simpler means."""
    moved = learned.mean - belief.mean
    group = learned.group_mean - belief.group_mean
    through = on.follows - on.weights @ belief.pull[on.rows]
    mean = on.mean + np.einsum("nds,ns->nd", on.weights, moved[on.rows]) + through @ group
    return mean, on.spread(learned)[1]


def _after(belief: Belief, on: Bearing, mean: Numbers, cov: Numbers) -> Belief:
    """The belief once these numbers are known so well.

    What the answers alone say is what is known now less what was known before, as precisions; that
    moves the members given the group, and the group.
    """
    along, own = on.spread(belief)
    said, cov = _said(_in_all(belief, on), cov)
    back = np.linalg.inv(np.eye(own.shape[1]) + said @ own)
    teaches = back @ said
    teaches = (teaches + teaches.transpose(0, 2, 1)) / 2
    surprise = (back @ np.linalg.solve(cov, (mean - on.mean)[:, :, None]))[:, :, 0]
    turned, follows = on.follows.transpose(0, 2, 1), on.follows
    precision = np.linalg.inv(belief.group_cov) + (turned @ teaches @ follows).sum(axis=0)
    group_cov = np.linalg.inv(precision)
    moved = group_cov @ (turned @ surprise[:, :, None]).sum(axis=0)[:, 0]
    means, covs, pull = belief.mean.copy(), belief.cov.copy(), belief.pull.copy()
    means[on.rows] += (along @ surprise[:, :, None])[:, :, 0]
    covs[on.rows] -= along @ teaches @ along.transpose(0, 2, 1)
    pull[on.rows] -= along @ teaches @ follows
    return replace(
        belief,
        mean=means + pull @ moved,
        cov=(covs + covs.transpose(0, 2, 1)) / 2,
        pull=pull,
        group_mean=belief.group_mean + moved,
        group_cov=(group_cov + group_cov.T) / 2,
    )


def _said(before: Numbers, after: Numbers) -> tuple[Numbers, Numbers]:
    """Precision of what was said, and the covariance after it, which is never wider than before."""
    root = np.linalg.cholesky(before)
    inverse = np.linalg.inv(root)
    ratio = inverse @ after @ inverse.transpose(0, 2, 1)
    share, axes = np.linalg.eigh((ratio + ratio.transpose(0, 2, 1)) / 2)
    share = np.clip(share, SURE, 1.0)
    turned = axes.transpose(0, 2, 1)
    said = (axes * (1 / share - 1)[:, None]) @ turned
    return (
        inverse.transpose(0, 2, 1) @ said @ inverse,
        root @ (axes * share[:, None]) @ turned @ root.transpose(0, 2, 1),
    )
