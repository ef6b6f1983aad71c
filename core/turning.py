"""Where on a ladder the next variation becomes the better one, worked out once a line."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from core import rules
from core.capacity import laws
from core.capacity.readings import normal_cdf
from core.doses import Numbers, doses
from core.movement import Measure
from core.plan import PlanLine

REACH, POINTS = 1.5, 181
"""Log strengths around the planned dose that are looked at, and at how many points."""
HOPELESS = 0.1
"""Chance in range below which a rung has nothing to offer any more."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Turns:
    """Log strengths of the standard variation, by rung; infinite where there is no such turn."""

    up: Numbers
    """From here on the next rung has more to offer, by enough to be worth the change."""
    down: Numbers
    """Up to here the rung before has more to offer."""
    shifts: Numbers
    """What each rung takes, by the demands of the plan."""


@lru_cache(maxsize=512)
def turns(line: PlanLine) -> Turns:
    """Work out where the rungs of this line meet, for somebody known as well as most soon are."""
    measure, ladder = line.movement.measure, line.movement.ladder
    shifts = np.array([laws.shift(measure, each.demand) for each in ladder])
    middle = _middle(line) + shifts[line.movement.rung(line.dose.variation)]
    strengths = middle + np.linspace(-REACH, REACH, POINTS)
    offers = _offers(line, strengths, shifts)
    gains, lost = offers[1:] - offers[:-1], offers < HOPELESS
    none = np.array([np.inf])
    return Turns(
        up=np.concatenate([_from(strengths, lost[:-1] | (gains >= rules.NEW_VARIATION)), none]),
        down=np.concatenate([-none, _up_to(strengths, lost[1:] | (gains <= -rules.NEW_VARIATION))]),
        shifts=shifts,
    )


def _middle(line: PlanLine) -> float:
    """Log strength left that the planned dose takes."""
    amount, load = np.array([line.dose.amount]), np.array([line.dose.load or 1.0])
    return float(laws.strength_at(line.movement.measure, amount, load, np.array([line.target]))[0])


def _offers(line: PlanLine, strengths: Numbers, shifts: Numbers) -> Numbers:
    """The best chance in range that each rung offers, at each strength; (rungs, strengths)."""
    offered, measure = doses(line), line.movement.measure
    effort = np.ones(len(offered.amount))
    low = max(line.target - rules.HALF_RANGE, 0.5)
    high = min(line.target + rules.HALF_RANGE, 10.0)
    least = laws.strength_at(measure, offered.amount, offered.load, low * effort)
    most = laws.strength_at(measure, offered.amount, offered.load, high * effort)
    left = strengths[:, None] - shifts[offered.rungs]
    sd = rules.USUAL_DOUBT_LOAD if measure is Measure.LOAD else rules.USUAL_DOUBT * _scale(line)
    chance = normal_cdf((least - left) / sd) - normal_cdf((most - left) / sd)
    felt = np.clip(laws.effort(measure, offered.amount, offered.load, left), 0.0, 10.0)
    chance -= rules.OFF_TARGET * np.maximum(np.abs(felt - line.target) - rules.HALF_RANGE, 0.0)
    if measure is Measure.MINUTES:
        chance -= rules.OTHER_MINUTES * np.abs(np.log(offered.amount / line.dose.amount))
    rungs = range(len(shifts))
    return np.stack([chance[:, offered.rungs == rung].max(axis=1) for rung in rungs])


def _scale(line: PlanLine) -> float:
    """Log strength per log amount, around the planned dose."""
    measure = line.movement.measure
    if measure is not Measure.REPS:
        return laws.amount_power(measure)
    most = float(laws.possible(measure, np.array([_middle(line)]), np.ones(1))[0])
    return most / (30 + most)


def _from(strengths: Numbers, holds: NDArray[np.bool_]) -> Numbers:
    """The first strength of each row from which on this holds to the end."""
    after = np.logical_and.accumulate(holds[:, ::-1], axis=1).sum(axis=1)
    ends = np.append(strengths, np.inf)
    return np.asarray(ends[len(strengths) - after])


def _up_to(strengths: Numbers, holds: NDArray[np.bool_]) -> Numbers:
    """The last strength of each row up to which this holds from the beginning."""
    before = np.logical_and.accumulate(holds, axis=1).sum(axis=1)
    ends = np.append(-np.inf, strengths)
    return np.asarray(ends[before])
