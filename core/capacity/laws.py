"""Laws of effort per measure: what a dose feels like to somebody of a given capacity.

Every law speaks of the same inner quantity, a *log strength*: what a person has, less what the
variation takes. It is measured so that a variation's demand only shifts it:

- hold: the log of the force that could just be brought up, against what the standard takes;
- reps: log(1 + r/30) of the repetitions r that could just be done (Epley), so that the same
  strength explains a body-weight ladder and a barbell;
- load: the log of what could be lifted once, in the plan's unit of load;
- minutes: the log of the intensity that could just be kept up for one minute.
"""

import numpy as np
from numpy.typing import NDArray

from core import people
from core.movement import Measure

Numbers = NDArray[np.float64]
Rows = NDArray[np.int64]

SECONDS_HELD = 60 / people.HOLD_FATIGUE
LEAST_HELD = 0.05
"""Log strength, a hold of about three seconds, below which the law of holds, which ends in no time
at all, is continued by a power of time."""


def shift(demand: float) -> float:
    """Log strength that a variation of this demand takes, against the standard one.

    Strength is shared out in proportion to the demand, whatever is measured.
    """
    return float(np.log(demand))


def strength(measure: Measure, possible: Numbers, load: Numbers) -> Numbers:
    """Log strength of somebody who could just do this amount, at this load where there is one.

    `possible` in the measure's unit, above zero; `load` is 1 for measures without a load.
    """
    if measure is Measure.HOLD:
        return _held(np.asarray(possible, dtype=np.float64))
    if measure is Measure.MINUTES:
        return people.MINUTES_POWER * np.log(possible)
    return np.log1p(possible / 30) + np.log(load)


def possible(measure: Measure, strength: Numbers, load: Numbers) -> Numbers:
    """What somebody of this log strength could just do: the inverse of `strength`.

    Holds: -ln f / (k f) minutes at the share f of the maximal force (Ma et al. 2011, Int J Ind
    Ergon 41:10). Repetitions may come out below zero: not even one.
    """
    if measure is Measure.HOLD:
        some = np.maximum(strength, LEAST_HELD)
        less = np.minimum(strength - LEAST_HELD, 0.0) / LEAST_HELD
        return SECONDS_HELD * some * np.exp(some + (1 + LEAST_HELD) * less)
    if measure is Measure.MINUTES:
        return np.exp(strength / people.MINUTES_POWER)
    return 30 * np.expm1(strength - np.log(load))


def per_log_amount(measure: Measure, possible: float) -> float:
    """Log strength per log of the amount that is possible, for somebody who could just do it."""
    if measure is Measure.MINUTES:
        return people.MINUTES_POWER
    if measure is Measure.HOLD:
        held = float(_held(np.array([possible]))[0])
        return held / (1 + held)
    return possible / (30 + possible)


def _held(seconds: Numbers) -> Numbers:
    """Log strength at which so many seconds can just be held, by Newton's method."""
    share = seconds / SECONDS_HELD
    least = LEAST_HELD * np.exp(LEAST_HELD)
    wanted = np.maximum(share, least)
    held = np.log1p(wanted)
    for _ in range(6):  # y exp(y) = wanted
        held = held * (1 + np.log(wanted / held)) / (1 + held)
    less = np.log(np.minimum(share / least, 1.0)) * LEAST_HELD / (1 + LEAST_HELD)
    return np.asarray(held + less)


def effort(measure: Measure, amount: Numbers, load: Numbers, strength: Numbers) -> Numbers:
    """Effort of a dose, 10 for just possible and above 10 for more than that; not clipped.

    Holds: linear in the fraction of the possible hold (Shepherd et al. 2013, Eur J Appl Physiol
    113:905). Repetitions and loads: 10 less the repetitions in reserve (Zourdos et al. 2016, J
    Strength Cond Res 30:267) up to about 12 to failure, in proportion beyond. Minutes: the share
    of one's best intensity, rising with duration.
    """
    if measure is Measure.HOLD:
        return 10 * amount / possible(measure, strength, load)
    if measure is Measure.MINUTES:
        return 10 * amount**people.MINUTES_POWER * np.exp(-strength)
    most = possible(measure, strength, load)
    return 10 - (most - amount) * people.RESERVE_SPAN / np.maximum(most, people.RESERVE_SPAN)


def strength_at(measure: Measure, amount: Numbers, load: Numbers, effort: Numbers) -> Numbers:
    """Log strength at which a dose feels like this effort: the inverse of `effort` in strength.

    Effort above zero; for repetitions any effort above -2.
    """
    if measure is Measure.HOLD:
        return _held(np.asarray(10 * amount / effort))
    if measure is Measure.MINUTES:
        return people.MINUTES_POWER * np.log(amount) - np.log(effort / 10)
    span = people.RESERVE_SPAN
    inside = amount + 10 - effort
    most = np.where(inside <= span, inside, span * amount / (effort + span - 10))
    return np.log1p(np.maximum(most, -29.0) / 30) + np.log(load)


def slope(measure: Measure, amount: Numbers, load: Numbers, strength: Numbers) -> Numbers:
    """Change of effort per unit of log strength: always negative."""
    felt = effort(measure, amount, load, strength)
    if measure is Measure.MINUTES:
        return -felt
    if measure is Measure.HOLD:
        return -felt * (1 + 1 / np.maximum(strength, LEAST_HELD))
    most = possible(measure, strength, load)
    span = people.RESERVE_SPAN
    per_repetition = np.where(most <= span, 1.0, span * amount / np.maximum(most, span) ** 2)
    return -per_repetition * (most + 30)
