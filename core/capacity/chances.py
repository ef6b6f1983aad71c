"""How likely people are to answer as they did, at any strength and way of rating."""

import numpy as np

from core import people
from core.capacity import laws
from core.capacity.evidence import Work
from core.capacity.frame import Place
from core.capacity.laws import Numbers
from core.capacity.readings import end_of_strength, even, normal_cdf, reserve_unit, stop_sd

RATINGS = 11
"""From 0 to 10."""
WIDE = 4.0
"""Standard deviations of a called reserve that is a slip, in those of one that isn't."""


def rating_chance(rating: Numbers, meant: Numbers, sd: Numbers) -> Numbers:
    """Chance of this rating from somebody who means that number, give or take `sd`.

    Who taps 10 says "10 or more", who taps 0 "0 or less"; a slip of the thumb is any of them.
    """
    above = np.where(rating >= RATINGS - 1, 0.0, normal_cdf((meant - rating - 0.5) / sd))
    below = np.where(rating <= 0, 0.0, normal_cdf((rating - 0.5 - meant) / sd))
    return people.SLIPS / RATINGS + (1 - people.SLIPS) * (1 - above - below)


def felt_on_the_day(place: Place, done: Work, strength: Numbers) -> Numbers:
    """Effort of each bout, 0 to 10; shape of `strength`, which is (bouts, points)."""
    felt = laws.effort(place.measure, done.amount[:, None], done.load[:, None], strength)
    return np.clip(felt, 0.0, 10.0)


def bout_chance(
    place: Place, done: Work, strength: Numbers, felt: Numbers, bias: Numbers, sd: Numbers
) -> Numbers:
    """Log chance of what was said of each bout, but for a constant; shape (bouts, points).

    `strength` is what they have on the day, `felt` how the dose feels to that, `bias` by how much
    they rate too high, all (bouts, points); `sd` the noise of their ratings, (bouts,).
    """
    cut = ~np.isnan(done.completed)
    found = np.zeros_like(strength)
    found[cut] = _stop(place, done.only(cut), strength[cut])
    found[~cut] = np.where(felt[~cut] < 10, 0.0, np.log(people.SLIPS))  # a stop not told of
    rated = ~np.isnan(done.effort)
    meant = np.where(cut[:, None], 10.0, felt)[rated] + bias[rated]
    found[rated] += np.log(rating_chance(done.effort[rated, None], meant, sd[rated, None]))
    left = ~cut & ~np.isnan(done.reserve)
    found[left] += _reserve(place, done.only(left), strength[left])
    return found


def _stop(place: Place, done: Work, strength: Numbers) -> Numbers:
    """A stop is nearly exact, whatever else was said; beyond eight SDs they are all as unlikely.

    Who couldn't do any of it has less than that, and nobody knows how much less.
    """
    seen = end_of_strength(place, done.completed, done.load)
    off = (strength - seen[:, None]) / stop_sd(place)
    none = (done.completed <= 0)[:, None]
    return np.maximum(-0.5 * np.where(none, np.maximum(off, 0.0), off) ** 2, -32.0)


def _reserve(place: Place, done: Work, strength: Numbers) -> Numbers:
    most = laws.possible(place.measure, strength, done.load[:, None])
    unit = reserve_unit(place, np.maximum(most, done.amount[:, None] / 10))
    left = (most - done.amount[:, None]) / unit - people.RESERVE_UNDERSTATED
    off = even(done.reserve[:, None] / unit) - even(np.maximum(left, 0.0))
    meant = (1 - people.SLIPS) * np.exp(-0.5 * off**2)
    chance = meant + people.SLIPS * np.exp(-0.5 * (off / WIDE) ** 2) / WIDE
    least, more = people.RESERVE_SD
    return np.log(chance / (least * unit + more * done.reserve[:, None]))
