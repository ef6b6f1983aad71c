"""What each dose would mean for each member: how likely it's right, and how likely too much."""

from dataclasses import dataclass
from statistics import NormalDist

import numpy as np

from core import rules
from core.capacity import Outlook, laws
from core.capacity.readings import normal_cdf
from core.doses import Doses, Numbers
from core.limits import Mask
from core.movement import Measure
from core.plan import PlanLine

LEAST_EFFORT, MOST_EFFORT = 0.5, 10.0
"""Ends of the range that a target's band may reach to."""
SAFE_BY = NormalDist().inv_cdf(1 - rules.CHANCE_OVER_CEILING)
"""Standard deviations above the ceiling from which the chance to pass it is small enough."""
SAFE_BY_ONCE_ACCUSTOMED = NormalDist().inv_cdf(1 - rules.CHANCE_ONCE_ACCUSTOMED)


@dataclass(frozen=True, slots=True, kw_only=True)
class Prospects:
    """What each dose would mean for each member; shape (members, doses) throughout."""

    in_range: Numbers
    """Chance that the effort lies within the band around the target, 0 to 1."""
    over: Numbers
    """Chance that it passes the ceiling, 0 to 1."""
    safe: Mask
    """Whether that is a chance that this member may take on a variation they are used to."""
    effort: Numbers
    """Expected effort, 0 to 10."""
    worth: Numbers
    """What sharing doses goes by: the chance in range, less what a dose has against it."""
    spare: Numbers
    """Log strength beyond what the dose takes in the middle of the range: 0 is just right."""
    doubt: Numbers
    """Standard deviation of the log strength on one given day."""
    takes: Numbers
    """Log strength that each dose takes in the middle of the range; shape (doses,)."""
    rising: Numbers
    """What the dose is worth to who isn't too strong for it; no less to whoever is stronger."""
    falling: Numbers
    """What it's worth to who is strong enough for it; no more to whoever is stronger."""


def prospects(line: PlanLine, offered: Doses, outlook: Outlook, accustomed: Mask) -> Prospects:
    """Weigh every offered dose for every member; `accustomed` says who is to training."""
    mean = outlook.mean[:, offered.rungs]
    sd = outlook.total_sd[:, offered.rungs]
    low, high, ceiling = (_needed(line, offered, each) for each in (*band(line), line.ceiling))
    in_range = _between(low, high, mean, sd)
    takes = (low + high) / 2
    over = normal_cdf((ceiling - mean) / sd)
    small = np.where(accustomed, rules.CHANCE_ONCE_ACCUSTOMED, rules.CHANCE_OVER_CEILING)
    safe_by = np.where(accustomed, SAFE_BY_ONCE_ACCUSTOMED, SAFE_BY)
    right = np.maximum(takes, ceiling + safe_by[:, None] * sd)
    worth = in_range - _off(line, offered, mean)
    at_best = _between(low, high, right, sd) - _off(line, offered, right)
    other = _other_amount(line, offered)
    return Prospects(
        in_range=in_range,
        over=over,
        safe=over <= small[:, None],
        effort=_effort(line, offered, mean),
        worth=worth,
        spare=mean - takes,
        doubt=sd,
        takes=takes,
        rising=np.where(mean < right, worth, at_best) - other,
        falling=np.where(mean < right, at_best, worth) - other,
    )


def band(line: PlanLine) -> tuple[float, float]:
    """The efforts between which a bout of this line is in range."""
    return (
        max(line.target - rules.HALF_RANGE, LEAST_EFFORT),
        min(line.target + rules.HALF_RANGE, MOST_EFFORT),
    )


def _needed(line: PlanLine, offered: Doses, effort: float) -> Numbers:
    """Log strength at which each dose feels like this effort."""
    count = len(offered.amount)
    return laws.strength_at(
        line.movement.measure, offered.amount, offered.load, np.full(count, effort)
    )


def _between(low: Numbers, high: Numbers, mean: Numbers, sd: Numbers) -> Numbers:
    """Chance that the strength is such that the effort lies in the band."""
    return np.asarray(normal_cdf((low - mean) / sd) - normal_cdf((high - mean) / sd))


def _effort(line: PlanLine, offered: Doses, mean: Numbers) -> Numbers:
    felt = laws.effort(line.movement.measure, offered.amount, offered.load, mean)
    return np.clip(felt, 0.0, 10.0)


def _off(line: PlanLine, offered: Doses, mean: Numbers) -> Numbers:
    """What it costs to be expected outside the range."""
    far = np.abs(_effort(line, offered, mean) - line.target) - rules.HALF_RANGE
    return np.asarray(rules.OFF_TARGET * np.maximum(far, 0.0))


def _other_amount(line: PlanLine, offered: Doses) -> Numbers:
    """What other repetitions of a load, or minutes, than planned cost where rungs are compared."""
    if line.movement.measure not in (Measure.LOAD, Measure.MINUTES):
        return np.zeros(len(offered.amount))
    return np.asarray(rules.OTHER_MINUTES * np.abs(np.log(offered.amount / line.dose.amount)))
