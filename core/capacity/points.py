"""Points at which what is believed is weighed: always the same ones, spread evenly."""

from functools import lru_cache
from statistics import NormalDist

import numpy as np

from core.capacity.laws import Numbers

COUNT = 256
"""Points; with half as many or twice as many, simulated rooms come out the same. Even."""
FAR, SHARE_FAR = 2.0, 0.25
"""How much further out some of them lie, for what a normal belief doesn't foresee, and how many."""


@lru_cache(maxsize=16)
def points(dimensions: int) -> tuple[Numbers, Numbers]:
    """Points around zero, shape (points, dimensions), and their log density but for a constant.

    An additive recurrence over powers of the generalised golden ratio (Niederreiter 1992, Random
    Number Generation and Quasi-Monte Carlo Methods, on such sequences), taken to the normal scale,
    each point with its opposite, so that means come out exactly where answers say nothing.
    """
    ratio = 1.5
    for _ in range(60):  # the root of x^(d+2) = x + 1; the number more says which lie far out
        ratio = (1 + ratio) ** (1 / (dimensions + 2))
    steps = ratio ** -np.arange(1.0, dimensions + 2)
    even = (0.5 + np.outer(np.arange(1, COUNT // 2 + 1), steps)) % 1
    normal = np.array([list(map(NormalDist().inv_cdf, row)) for row in even[:, :-1].tolist()])
    at = np.concatenate([normal, -normal])
    at = at @ np.linalg.inv(np.linalg.cholesky(at.T @ at / COUNT)).T
    far = np.tile(even[:, -1] < SHARE_FAR, 2)
    at = np.where(far[:, None], FAR, 1.0) * at
    square = (at**2).sum(axis=1)
    near, wide = np.exp(-square / 2), np.exp(-square / (2 * FAR**2)) / FAR**dimensions
    density = np.log((1 - SHARE_FAR) * near + SHARE_FAR * wide)
    for each in (at, density):
        each.setflags(write=False)
    return at, density
