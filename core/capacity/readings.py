"""What one answer says of a strength: how far it moves what is believed, and how sure it is."""

import math
from dataclasses import dataclass

import numpy as np

from core import people
from core.capacity import laws
from core.capacity.evidence import Work
from core.capacity.frame import Place
from core.capacity.laws import Numbers
from core.movement import Measure

GRID_PER_SD = 8
GRID = np.arange(-4 * GRID_PER_SD, 4 * GRID_PER_SD + 1) / GRID_PER_SD
"""Standard deviations from the middle of a belief at which an answer is weighed."""
GRID_WEIGHTS = np.exp(-0.5 * GRID**2) / np.exp(-0.5 * GRID**2).sum()
CDF_ENDS, CDF_PER_SD = 8, 512
CDF = np.array(
    [
        0.5 * math.erfc(-each / CDF_PER_SD / math.sqrt(2))
        for each in range(-CDF_ENDS * CDF_PER_SD, CDF_ENDS * CDF_PER_SD + 2)
    ]
)
"""Chances in small steps: numpy has no error function, and straight lines between are quick."""
CDF_STEPS = np.diff(CDF)
LEAST_SHARE = 0.3
"""A rating that tells more of the rater than of their strength counts as telling at least this
share of what it would tell from somebody known to rate as most do."""


def normal_cdf(value: Numbers) -> Numbers:
    """Chance that a standard normal number lies below a value, to six digits; it never falls."""
    at = np.clip(value, -CDF_ENDS, CDF_ENDS) * CDF_PER_SD + CDF_ENDS * CDF_PER_SD
    below = at.astype(np.intp)
    return np.asarray(CDF[below] + (at - below) * CDF_STEPS[below])


@dataclass(frozen=True, slots=True, kw_only=True)
class Doubt:
    """What is believed before an answer; one entry per member."""

    strength: Numbers
    """Log strength left at the variation that was done."""
    variance: Numbers
    bias: Numbers
    shared: Numbers
    """Covariance of strength and bias."""
    bias_variance: Numbers

    def on_the_day(self, place: Place) -> Numbers:
        """Standard deviation of the strength on one given day."""
        return np.sqrt(self.variance + place.day_sd**2)


@dataclass(frozen=True, slots=True, kw_only=True)
class LinearRating:
    """A rating as slope · strength + bias + noise, with what it was off by."""

    slope: Numbers
    surprise: Numbers
    noise: Numbers
    """Variance."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FeltLine:
    """What a dose feels like, as expected + slope · (strength less its mean) + noise."""

    expected: Numbers
    slope: Numbers
    noise: Numbers
    """Variance."""


def stopped(place: Place, completed: Numbers, load: Numbers) -> tuple[Numbers, Numbers]:
    """An unfinished bout: strength as it shows, and its noise variance with the day's."""
    seen = end_of_strength(place, completed, load)
    return seen, np.full(len(seen), stop_sd(place) ** 2 + place.day_sd**2)


def end_of_strength(place: Place, completed: Numbers, load: Numbers) -> Numbers:
    """Strength on a day of whoever got so far: who counts did the last one, and not the next."""
    if place.measure is Measure.HOLD:
        possible = np.maximum(completed, 0.5 * place.movement.step)  # who could not even begin
    else:
        possible = completed + 0.5
    return laws.strength_at(place.measure, possible, load, np.full(completed.shape, 10.0))


def stop_sd(place: Place) -> float:
    """Error of that in log strength: what was completed is what could be done, nearly exactly."""
    return people.STOP_SD * place.per_amount


def finished(place: Place, done: Work, doubt: Doubt) -> tuple[Numbers, Numbers]:
    """A dose done in full: strength is at least what it takes. Surprise and noise variance.

    The moments of a normal belief cut off softly, matched by one linear observation; noise is
    infinite where it teaches nothing. Of who wasn't asked it's supposed alone, and they may have
    stopped early without a word.
    """
    least = laws.strength_at(place.measure, done.amount, done.load, np.full(len(done.amount), 10.0))
    width = doubt.on_the_day(place)
    off = np.clip((doubt.strength - least) / width, -6.0, 8.0)
    unsaid = np.where(done.told, 0.0, people.STOPS_UNSAID)
    density = (1 - unsaid) * np.exp(-0.5 * off**2) / math.sqrt(2 * math.pi)
    ratio = density / (unsaid + (1 - unsaid) * normal_cdf(off))
    curve = ratio * (ratio + off) / width**2
    teaches = curve * doubt.variance > 1e-4
    safe = np.where(teaches, curve, 1.0)
    noise = np.where(teaches, 1 / safe - doubt.variance, np.inf)
    return np.where(teaches, ratio / width / safe, 0.0), np.maximum(noise, 1e-9)


def reserve_left(place: Place, done: Work, doubt: Doubt) -> tuple[Numbers, Numbers]:
    """A called reserve: surprise in strength, and its noise variance.

    What people say is understated, and vaguer the more was left, so that it is weighed on a scale
    on which its error is the same everywhere. A rating of the same bout was of the same day: the
    day's share of its noise is doubled, so that together they don't tell the day from the strength.
    """
    sd = doubt.on_the_day(place)
    strength = doubt.strength[:, None] + sd[:, None] * GRID
    most = laws.possible(place.measure, strength, done.load[:, None])
    unit = reserve_unit(place, np.maximum(most[:, len(GRID) // 2], done.amount))
    said = most - done.amount[:, None] - people.RESERVE_UNDERSTATED * reserve_unit(place, most)
    left = said / unit[:, None]
    seen = even(done.reserve / unit)
    limit = np.full(len(seen), people.RESERVE_SLIP_LIMIT)
    shift, remains = _weigh(seen, even(np.maximum(left, 0.0)), limit)
    teaches = np.maximum(1 - remains, 1e-6)
    total = sd**2 / teaches
    same_day = np.where(np.isnan(done.effort), 0.0, place.day_sd**2)
    return shift * sd / teaches, total - doubt.variance + same_day


def reserve_unit(place: Place, possible: Numbers) -> Numbers:
    """What counts as one repetition where people judge what was left, in the measure's unit.

    Of steady work a tenth of the minutes that are possible, since it's one point of effort.
    """
    if place.measure is Measure.HOLD:
        return np.full_like(possible, people.SECONDS_PER_REPETITION)
    if place.measure is Measure.MINUTES:
        return np.asarray(possible / 10)
    return np.ones_like(possible)


def even(left: Numbers) -> Numbers:
    """Repetitions left on a scale on which the error of saying them is 1 everywhere."""
    least, more = people.RESERVE_SD
    return np.asarray(np.log1p(more * left / least) / more)


def linear_rating(place: Place, done: Work, doubt: Doubt, noise_sd: Numbers) -> LinearRating:
    """A rating of one movement: where it would move the strength if it were the only answer.

    The shift is that of the exact posterior along the strength (bias taken along by regression),
    with a likelihood whose tails fall off as slowly as a slip of the thumb asks for (Huber 1964);
    since the likelihood ratio is monotone, a higher rating never moves it up. Slope and noise don't
    depend on the rating, so that answers can be added up in any number.
    """
    sd = doubt.on_the_day(place)
    strength = doubt.strength[:, None] + sd[:, None] * GRID
    felt = laws.effort(place.measure, done.amount[:, None], done.load[:, None], strength)
    felt = np.clip(felt, 0.0, 12.0)
    slope = (felt * GRID) @ GRID_WEIGHTS / sd
    with_bias = doubt.bias[:, None] + (doubt.shared / sd)[:, None] * GRID
    tapped = np.minimum.accumulate(felt + with_bias, axis=1)  # stronger never means a higher one
    spread = np.sqrt(noise_sd**2 + np.maximum(doubt.bias_variance - (doubt.shared / sd) ** 2, 0.0))
    scale = spread[:, None]
    # who taps 10 says "10 or more", who taps 0 "0 or less"
    expected = np.clip(tapped, 0.0, 10.0) / scale
    limit = people.SLIP_LIMIT * spread / noise_sd  # the doubt about the bias is no slip
    shift, remains = _weigh(done.effort / spread, expected, limit)
    known = slope**2 * doubt.variance + 2 * slope * doubt.shared + doubt.bias_variance
    along = np.minimum(slope * doubt.variance + doubt.shared, LEAST_SHARE * slope * doubt.variance)
    share = doubt.variance / sd**2
    total = along**2 / np.maximum((share * sd) ** 2 * (1 - remains), 1e-9)
    noise = np.maximum(total - known, 0.5 * noise_sd**2)
    return LinearRating(
        slope=slope, surprise=share * shift * sd * (known + noise) / along, noise=noise
    )


def felt_line(place: Place, done: Work, doubt: Doubt) -> FeltLine:
    """The straight line nearest to how a dose may feel, over all that is believed possible.

    Statistical linearisation (Gelb 1974, Applied Optimal Estimation): where little is known, effort
    is far from straight, and what it would be at the mean isn't what it is on average.
    """
    sd = doubt.on_the_day(place)
    strength = doubt.strength[:, None] + sd[:, None] * GRID
    felt = laws.effort(place.measure, done.amount[:, None], done.load[:, None], strength)
    felt = np.clip(felt, 0.0, 10.0)
    expected, along = felt @ GRID_WEIGHTS, (felt * GRID) @ GRID_WEIGHTS
    bent = np.maximum(felt**2 @ GRID_WEIGHTS - expected**2 - along**2, 0.0)
    return FeltLine(
        expected=expected, slope=along / sd, noise=bent + (along / sd * place.day_sd) ** 2
    )


def class_rating_variance(heard: Numbers, movements: int) -> Numbers:
    """Noise in a rating of the whole class, of so many of whose movements anything is known."""
    unheard = np.maximum(1 - heard / movements, 0.0)
    return np.asarray(people.CLASS_RATING_SD**2 + people.UNHEARD_SD**2 * unheard / heard)


def _weigh(seen: Numbers, expected: Numbers, limit: Numbers) -> tuple[Numbers, Numbers]:
    """Shift of the mean and what is left of the variance, in units of the belief's SD.

    `expected` (members, grid) in units of the answer's noise, monotone along the grid. The variance
    is the average over what might be answered, not that of this answer.
    """
    shift, _ = _moments(seen[:, None], expected, limit)
    nodes = np.arange(-3, 4)
    might = expected[:, len(GRID) // 2 + GRID_PER_SD * nodes]
    weights = np.exp(-0.5 * nodes**2)
    _, left = _moments(might, expected, limit)
    return shift[:, 0], np.asarray(left @ weights / weights.sum())


def _moments(seen: Numbers, expected: Numbers, limit: Numbers) -> tuple[Numbers, Numbers]:
    off = np.abs(seen[:, :, None] - expected[:, None, :])
    limit = limit[:, None, None]
    lost = np.where(off <= limit, 0.5 * off**2, limit * (off - 0.5 * limit))
    chance = GRID_WEIGHTS * np.exp(lost.min(axis=2, keepdims=True) - lost)
    chance /= chance.sum(axis=2, keepdims=True)
    mean = chance @ GRID
    return mean, chance @ GRID**2 - mean**2
