"""What movements of one class felt like, added up, as it hangs on what is believed."""

from dataclasses import dataclass

import numpy as np

from core.capacity.evidence import Work
from core.capacity.frame import Place
from core.capacity.laws import Numbers
from core.capacity.readings import felt_line
from core.capacity.slate import Slate

Worked = tuple[Place, Work]
"""A movement, and what was done of it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Felt:
    """A sum of points of effort for each member, zero for who did none of it."""

    expected: Numbers
    """(members,)"""
    weights: Numbers
    """How it hangs on a member's numbers; (members, numbers)."""
    follows: Numbers
    """How it follows the group's, seen through the member's; (members, group's numbers)."""
    noise: Numbers
    """Variance besides what is believed; (members,)."""


def felt_together(draft: Slate, worked: list[Worked]) -> Felt:
    """What all of it felt like, as seen from the belief that the slate began from."""
    members, size = len(draft.belief.members), draft.moved.shape[1]
    expected, noise = np.zeros(members), np.zeros(members)
    weights = np.zeros((members, size))
    follows = np.zeros((members, draft.belief.frame.group_size))
    for place, done in worked:
        rows, line = done.rows, felt_line(place, done, draft.doubt(place, done))
        hangs = place.weights(done.rungs, size)
        seen_through = draft.seen_through(rows, done.rungs, place, hangs)
        weights[rows] += line.slope[:, None] * hangs
        follows[rows] += line.slope[:, None] * seen_through
        expected[rows] += line.expected
        noise[rows] += line.noise
    return Felt(expected=expected, weights=weights, follows=follows, noise=noise)


def movements_done(worked: list[Worked], members: int) -> Numbers:
    """How many movements each member did, as far as is known."""
    count = np.zeros(members)
    for _, done in worked:
        count[done.rows] += 1
    return count
