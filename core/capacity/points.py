"""Points at which what is believed is weighed: always the same ones, spread evenly."""

from functools import lru_cache
from statistics import NormalDist

import numpy as np

from core.capacity.laws import Numbers

COUNT = 256
"""Points; with half as many or twice as many, simulated rooms come out the same. Even."""
FAR = 2.0
"""How much further out every fourth point lies, for what a normal belief doesn't foresee."""


@lru_cache(maxsize=16)
def points(dimensions: int) -> tuple[Numbers, Numbers]:
    """Points around zero, shape (points, dimensions), and their log density but for a constant.

    An additive recurrence over powers of the generalised golden ratio (Niederreiter 1992, Random
    Number Generation and Quasi-Monte Carlo Methods, on such sequences), taken to the normal scale,
    each point with its opposite, so that means come out exactly where answers say nothing.
    """
    ratio = 1.5
    for _ in range(60):  # the root of x^(d+1) = x + 1
        ratio = (1 + ratio) ** (1 / (dimensions + 1))
    half = np.arange(1, COUNT // 2 + 1)
    even = (0.5 + np.outer(half, ratio ** -np.arange(1.0, dimensions + 1))) % 1
    normal = np.array([list(map(NormalDist().inv_cdf, row)) for row in even.tolist()])
    at = np.concatenate([normal, -normal])
    at = at @ np.linalg.inv(np.linalg.cholesky(at.T @ at / COUNT)).T
    far = np.tile(half % 4 == 0, 2)
    at = np.where(far[:, None], FAR, 1.0) * at
    square = (at**2).sum(axis=1)
    near, wide = np.exp(-square / 2), np.exp(-square / (2 * FAR**2)) / FAR**dimensions
    density = np.log(0.75 * near + 0.25 * wide)
    for each in (at, density):
        each.setflags(write=False)
    return at, density
