"""Laws of effort per measure: what a dose feels like to somebody of a given capacity.

Every law speaks of the same inner quantity, a *log strength*: what a person has, less what the
variation takes. It is measured so that a variation's demand only shifts it:

- hold: the log of the seconds that could just be held;
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


def shift(measure: Measure, demand: float) -> float:
    """Log strength that a variation of this demand takes, against the standard one.

    Holds: endurance falls with a power of the demand (Ma et al. 2011, Int J Ind Ergon 41:10).
    The others: strength is shared out in proportion to the demand.
    """
    return demand_power(measure) * float(np.log(demand))


def amount_power(measure: Measure) -> float:
    """Log strength per log amount, where that is the same for everybody: holds and minutes."""
    return people.MINUTES_POWER if measure is Measure.MINUTES else 1.0


def demand_power(measure: Measure) -> float:
    """Log strength per log demand."""
    return people.HOLD_DEMAND_POWER if measure is Measure.HOLD else 1.0


def strength(measure: Measure, possible: Numbers, load: Numbers) -> Numbers:
    """Log strength of somebody who could just do this amount, at this load where there is one.

    `possible` in the measure's unit, above zero; `load` is 1 for measures without a load.
    """
    if measure is Measure.HOLD:
        return np.log(possible)
    if measure is Measure.MINUTES:
        return people.MINUTES_POWER * np.log(possible)
    return np.log1p(possible / 30) + np.log(load)


def possible(measure: Measure, strength: Numbers, load: Numbers) -> Numbers:
    """What somebody of this log strength could just do: the inverse of `strength`.

    Repetitions may come out below zero: not even one.
    """
    if measure is Measure.HOLD:
        return np.exp(strength)
    if measure is Measure.MINUTES:
        return np.exp(strength / people.MINUTES_POWER)
    return 30 * np.expm1(strength - np.log(load))


def effort(measure: Measure, amount: Numbers, load: Numbers, strength: Numbers) -> Numbers:
    """Effort of a dose, 10 for just possible and above 10 for more than that; not clipped.

    Holds: linear in the fraction of the possible hold (Shepherd et al. 2013, Eur J Appl Physiol
    113:905). Repetitions and loads: 10 less the repetitions in reserve (Zourdos et al. 2016, J
    Strength Cond Res 30:267) up to about 12 to failure, in proportion beyond. Minutes: the share
    of one's best intensity, rising with duration.
    """
    if measure is Measure.HOLD:
        return 10 * amount * np.exp(-strength)
    if measure is Measure.MINUTES:
        return 10 * amount**people.MINUTES_POWER * np.exp(-strength)
    most = possible(measure, strength, load)
    return 10 - (most - amount) * people.RESERVE_SPAN / np.maximum(most, people.RESERVE_SPAN)


def strength_at(measure: Measure, amount: Numbers, load: Numbers, effort: Numbers) -> Numbers:
    """Log strength at which a dose feels like this effort: the inverse of `effort` in strength.

    Effort above zero; for repetitions any effort above -2.
    """
    if measure is Measure.HOLD:
        return np.log(amount) - np.log(effort / 10)
    if measure is Measure.MINUTES:
        return people.MINUTES_POWER * np.log(amount) - np.log(effort / 10)
    span = people.RESERVE_SPAN
    inside = amount + 10 - effort
    most = np.where(inside <= span, inside, span * amount / (effort + span - 10))
    return np.log1p(np.maximum(most, -29.0) / 30) + np.log(load)


def slope(measure: Measure, amount: Numbers, load: Numbers, strength: Numbers) -> Numbers:
    """Change of effort per unit of log strength: always negative."""
    if measure in (Measure.HOLD, Measure.MINUTES):
        return -effort(measure, amount, load, strength)
    most = possible(measure, strength, load)
    span = people.RESERVE_SPAN
    per_repetition = np.where(most <= span, 1.0, span * amount / np.maximum(most, span) ** 2)
    return -per_repetition * (most + 30)
