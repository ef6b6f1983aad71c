"""What a dose truly takes out of a simulated body, by one of two laws."""

from enum import StrEnum

import numpy as np

from core.movement import Dose, Measure, Movement

FATIGUE_PER_MINUTE = 0.96
"""k of Ma et al. 2011, measured at the elbow in 30 people (Ergonomics 2018 61:806)."""


class Law(StrEnum):
    """How demand and capacity make effort, in truth: the bot doesn't know which."""

    PUBLISHED = "published"
    """Endurance of holds after Ma et al. 2011, repetitions after Epley, reserve after Zourdos."""
    PROPORTIONAL = "proportional"
    """Ten times demand by capacity, in every measure."""


def effort_of(movement: Movement, dose: Dose, capacity: float, law: Law) -> float:
    """Effort of one bout, 10 for just possible, above 10 for more; never below zero."""
    most = can_just_do(movement, dose, capacity, law)
    if most <= 0:
        return 20.0
    if movement.measure is Measure.MINUTES and law is Law.PUBLISHED:
        return float(10 * np.sqrt(dose.amount / most))
    by_share = 10 * dose.amount / most
    counts = movement.measure in (Measure.REPS, Measure.LOAD)
    if counts and law is Law.PUBLISHED and most < 10:
        return float(max(10 - (most - dose.amount), 0.0))
    return float(by_share)


def can_just_do(movement: Movement, dose: Dose, capacity: float, law: Law) -> float:
    """Seconds, repetitions or minutes of this variation, and load, that just go; may be below zero.

    `capacity` is the same for the standard variation; for loads, what can be lifted once.
    """
    demand = movement.demand(dose.variation)
    if movement.measure is Measure.LOAD:
        return float(30 * (capacity / ((dose.load or 1.0) * demand) - 1))
    if law is Law.PROPORTIONAL:
        return capacity / demand
    if movement.measure is Measure.REPS:
        return (30 + capacity) / demand - 30
    if movement.measure is Measure.MINUTES:
        return float(capacity * demand**-2.5)
    return _hold(capacity, demand)


def _hold(capacity: float, demand: float) -> float:
    """Seconds of a variation: endurance = -ln f / (k f) minutes at share f of maximal force."""
    wanted = capacity / 60 * FATIGUE_PER_MINUTE
    log_share = 0.5
    for _ in range(30):  # Newton's method for y exp(y) = wanted, with y = -ln f
        log_share -= (log_share * np.exp(log_share) - wanted) / (
            np.exp(log_share) * (1 + log_share)
        )
    easier = log_share - np.log(demand)
    if easier <= 0:
        return 0.0
    return float(60 / FATIGUE_PER_MINUTE * easier * np.exp(easier))
