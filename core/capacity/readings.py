"""What one answer says, in numbers that can be absorbed: how far off, and how sure."""

import math
from dataclasses import dataclass

import numpy as np

from core import rules
from core.capacity import laws
from core.capacity.evidence import Work
from core.capacity.frame import Place
from core.capacity.laws import Numbers
from core.movement import Measure

NODES, NODE_WEIGHTS = np.polynomial.hermite_e.hermegauss(5)
NODE_WEIGHTS = NODE_WEIGHTS / NODE_WEIGHTS.sum()
ROUNDS = 3
"""How often a rating is made linear anew around what it has taught so far."""
_erf = np.vectorize(math.erf, otypes=[np.float64])


def normal_cdf(value: Numbers) -> Numbers:
    """Chance that a standard normal number lies below a value."""
    return np.asarray(0.5 * (1 + _erf(value / math.sqrt(2))))


@dataclass(frozen=True, slots=True, kw_only=True)
class LinearRating:
    """A rating as slope · strength + bias + noise, with what it was off by."""

    slope: Numbers
    surprise: Numbers
    noise: Numbers
    """Variance."""


def stopped(place: Place, completed: Numbers, load: Numbers) -> tuple[Numbers, Numbers]:
    """An unfinished bout: what was completed is what could be done that day, nearly exactly."""
    least = 0.5 * place.movement.step  # for who could not even begin
    amount = np.maximum(completed, least)
    seen = laws.strength_at(place.measure, amount, load, np.full(len(amount), 10.0))
    sd = rules.STOP_SD * place.per_amount
    return seen, np.full(len(amount), sd**2 + place.day_sd**2)


def reserve_left(
    place: Place, amount: Numbers, load: Numbers, reserve: Numbers, strength: Numbers
) -> tuple[Numbers, Numbers]:
    """A called reserve: what could have been done, vaguer the more was left, and understated.

    How much was left is known from what they said and from what is believed of their strength, so
    that a small number said of a light dose isn't taken for a precise one.
    """
    if place.measure is Measure.HOLD:
        unit = np.full(len(amount), rules.SECONDS_PER_REPETITION)
    elif place.measure is Measure.MINUTES:
        unit = amount / 10
    else:
        unit = np.ones(len(amount))
    possible = amount + reserve + rules.RESERVE_UNDERSTATED * unit
    believed = np.clip(laws.possible(place.measure, strength, load) - amount, 0, 3 * amount)
    error = rules.RESERVE_SD[0] * unit + rules.RESERVE_SD[1] * (reserve + believed) / 2
    seen = laws.strength(place.measure, possible, load)
    step = laws.strength(place.measure, possible + error, load) - seen
    return seen, step**2 + place.day_sd**2


def finished(
    place: Place, amount: Numbers, load: Numbers, mean: Numbers, variance: Numbers
) -> tuple[Numbers, Numbers]:
    """A dose done in full: strength is at least what it takes. Surprise and noise variance.

    The moments of a normal belief cut off softly, matched by one linear observation; noise is
    infinite where it teaches nothing.
    """
    least = laws.strength_at(place.measure, amount, load, np.full(len(amount), 10.0))
    width = np.sqrt(variance + place.day_sd**2)
    off = np.clip((mean - least) / width, -6.0, 8.0)
    ratio = np.exp(-0.5 * off**2) / math.sqrt(2 * math.pi) / normal_cdf(off)
    curve = ratio * (ratio + off) / width**2
    teaches = curve * variance > 1e-4
    safe = np.where(teaches, curve, 1.0)
    noise = np.where(teaches, 1 / safe - variance, np.inf)
    return np.where(teaches, ratio / width / safe, 0.0), np.maximum(noise, 1e-9)


def linear_rating(
    place: Place,
    done: Work,
    strength: Numbers,
    bias: Numbers,
    spread: tuple[Numbers, ...],
    noise_sd: Numbers,
) -> LinearRating:
    """A rating of one movement, made linear around what it teaches.

    Statistical linear regression, iterated around the posterior (García-Fernández et al. 2015, IEEE
    Transactions on Signal Processing 63:5561). A surprise beyond the slip limit counts as noise,
    but never less than a smaller surprise would (Huber 1964).
    """
    variance, shared, bias_variance = spread
    at, width = strength, variance
    slope = surprise = noise = np.zeros(0)
    for _ in range(ROUNDS):
        felt, slope, rest = _regression(place, done, at, width)
        expected = felt + slope * (strength - at) + bias
        # who taps 10 says "10 or more", who taps 0 "0 or less"
        seen = np.where(done.effort >= 10, np.maximum(expected, 10.0), done.effort)
        surprise = seen - expected
        along = np.minimum(slope * variance + shared, -1e-12)
        noise = noise_sd**2 + rest + (slope * place.day_sd) ** 2
        known = slope**2 * variance + 2 * slope * shared + bias_variance
        total = known + noise
        most = rules.SLIP_LIMIT * total / np.sqrt(noise)  # what would leave the limit unexplained
        surprise = np.clip(surprise, -most, most)
        at = strength + along * surprise / total
        width = np.maximum(variance - along**2 / total, 1e-8)
    return LinearRating(slope=slope, surprise=surprise, noise=noise)


def _regression(
    place: Place, done: Work, at: Numbers, width: Numbers
) -> tuple[Numbers, Numbers, Numbers]:
    """Mean effort, its slope in strength, and the variance that a straight line leaves."""
    sd = np.sqrt(width)[:, None]
    felt = laws.effort(
        place.measure, done.amount[:, None], done.load[:, None], at[:, None] + sd * NODES
    )
    felt = np.clip(felt, -2.0, 12.0)
    mean = felt @ NODE_WEIGHTS
    slope = (felt * NODES) @ NODE_WEIGHTS / sd[:, 0]
    rest = (felt**2) @ NODE_WEIGHTS - mean**2 - slope**2 * width
    return mean, slope, np.maximum(rest, 0.0)
