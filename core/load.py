"""Session load, week, monotony and moving averages, exactly as they were published."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum
from math import fsum
from statistics import fmean, pstdev

from core.reports import SessionRating

WEEK = 7
"""Days."""
ACUTE_DAYS = 7
CHRONIC_DAYS = 28
"""Lengths of the two averages (Williams et al. 2017, Br J Sports Med 51:209)."""
SAME_WITHIN = 0.10
"""A change of weekly load by less than this share is called about the same. Our own choice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Week:
    """The loads of seven days, in arbitrary units (rating times minutes)."""

    total: float
    monotony: float | None
    """Mean over standard deviation of the seven days, rest days 0; None if all days are equal."""
    strain: float | None
    """Total times monotony; None where monotony is."""


class Trend(StrEnum):
    """How one week's load compares with the weeks before, without any word of risk."""

    LESS = "less"
    SAME = "about the same"
    MORE = "more"


def session_load(effort: float, minutes: float) -> float:
    """Rating of the whole session, 0 to 10, times its minutes (Foster 1998)."""
    return effort * minutes


def daily_loads(ratings: Iterable[SessionRating], first: date, last: date) -> tuple[float, ...]:
    """Load of each day from `first` to `last`, both included, of one member's settled ratings.

    A day without a rated session counts 0; sessions without a rating or length add nothing.
    """
    days = [0.0] * ((last - first).days + 1)
    for each in ratings:
        if each.attended and each.effort is not None and each.minutes is not None:
            place = (each.on - first).days
            if 0 <= place < len(days):
                days[place] += session_load(each.effort, each.minutes)
    return tuple(days)


def week_of(loads: Sequence[float]) -> Week:
    """Total, monotony and strain of seven daily loads; ValueError for another number of days.

    Foster 1998, Med Sci Sports Exerc 30:1164. The standard deviation is that of a population: it
    gives the published monotony of real weeks (Midoglu et al. 2024, Sci Data 11), the one of a
    sample doesn't.
    """
    if len(loads) != WEEK:
        raise ValueError(f"a week has 7 days, not {len(loads)}")
    total = fsum(loads)
    spread = pstdev(loads)
    if spread == 0:
        return Week(total=total, monotony=None, strain=None)
    monotony = fmean(loads) / spread
    return Week(total=total, monotony=monotony, strain=total * monotony)


def weighted_average(loads: Sequence[float], days: int) -> tuple[float, ...]:
    """Exponentially weighted average after each day: λ = 2/(days + 1), from the first day's load.

    Williams et al. 2017, Br J Sports Med 51:209.
    """
    weight = 2 / (days + 1)
    averages: list[float] = []
    for load in loads:
        held = averages[-1] if averages else load
        averages.append(weight * load + (1 - weight) * held)
    return tuple(averages)


def change_of_load(loads: Sequence[float]) -> float | None:
    """The 7-day over the 28-day weighted average on the last day; None without any load.

    Plain change and nothing more: as a predictor of injury this ratio is strongly criticised
    (Impellizzeri et al. 2020).
    """
    if not loads:
        return None
    chronic = weighted_average(loads, CHRONIC_DAYS)[-1]
    return weighted_average(loads, ACUTE_DAYS)[-1] / chronic if chronic > 0 else None


def trend(this_week: float, weeks_before: Sequence[float]) -> Trend | None:
    """This week's total against the mean of earlier ones; None if there is nothing to compare."""
    usual = fmean(weeks_before) if weeks_before else 0.0
    if usual == 0:
        return None
    change = this_week / usual - 1
    if abs(change) < SAME_WITHIN:
        return Trend.SAME
    return Trend.MORE if change > 0 else Trend.LESS


def weeks_ending(loads: Sequence[float]) -> tuple[float, ...]:
    """Totals of the whole weeks that end with the last day, oldest first."""
    whole = len(loads) // WEEK
    start = len(loads) - whole * WEEK
    return tuple(fsum(loads[start + WEEK * n : start + WEEK * (n + 1)]) for n in range(whole))


def first_day(last: date, weeks: int) -> date:
    """The day on which so many weeks begin that end with `last`."""
    return last - timedelta(days=WEEK * weeks - 1)
