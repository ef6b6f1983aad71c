"""Loads agree with published weeks, published averages, and an independent library."""

from datetime import UTC, date, datetime
from math import sqrt

import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.load import (
    Trend,
    change_of_load,
    daily_loads,
    first_day,
    session_load,
    trend,
    week_of,
    weeks_ending,
    weighted_average,
)
from core.reports import SessionRating

loads = st.floats(0, 2000)
MONDAY = date(2026, 9, 7)

STEADY_THEN_UP = [30.0] * 21 + [50.0] * 7
RISING = [
    *(15, 15, 20, 20, 20, 25, 25, 25, 25, 30, 30, 30, 35, 35),
    *(35, 35, 35, 40, 45, 45, 45, 40, 40, 45, 45, 50, 60, 70),
]
FALLING_THEN_UP = [
    *(55, 50, 40, 60, 45, 50, 50, 20, 30, 80, 25, 10, 30, 15),
    *(20, 15, 5, 5, 15, 5, 5, 5, 5, 15, 45, 90, 95, 95),
]


def rating(day: date, effort: float | None, minutes: float | None = 50) -> SessionRating:
    said_at = datetime(2026, 9, 7, 20, tzinfo=UTC)
    return SessionRating(
        member="m", session=str(day), on=day, said_at=said_at, effort=effort, minutes=minutes
    )


def test_a_session_weighs_its_rating_times_its_minutes() -> None:
    assert session_load(7, 50) == 350


def test_days_without_a_rated_session_weigh_nothing() -> None:
    ratings = (
        rating(MONDAY, 7),
        rating(MONDAY, 4, 30),
        rating(date(2026, 9, 9), None),
        rating(date(2026, 9, 10), 6, None),
        rating(date(2026, 9, 20), 6),
    )
    found = daily_loads(ratings, MONDAY, date(2026, 9, 13))
    assert found == (470, 0, 0, 0, 0, 0, 0)


@pytest.mark.parametrize(
    ("days", "total", "monotony"),
    [
        ([900, 690, 320, 240, 400, 180, 360], 3090, 1.84),
        ([450, 90, 240, 540, 40, 240, 60], 1660, 1.31),
        ([420, 590, 320, 280, 420, 100, 480], 2610, 2.56),
        ([480, 440, 380, 440, 280, 120, 360], 2500, 3.12),
        ([380, 180, 450, 0, 410, 0, 420], 1840, 1.42),
        ([0, 0, 0, 0, 0, 0, 900], 900, 0.41),
    ],
)
def test_published_weeks_have_their_published_load_and_monotony(
    days: list[float], total: float, monotony: float
) -> None:
    """Six weeks of one football player, Midoglu et al. 2024, Sci Data 11."""
    week = week_of(days)
    assert week.total == total
    assert week.monotony == pytest.approx(monotony, abs=0.005)
    assert week.strain == pytest.approx(total * monotony, abs=0.005 * total)


@pytest.mark.parametrize("class_days", [1, 2, 3, 4, 5, 6])
def test_equal_class_days_have_the_monotony_of_their_number(class_days: int) -> None:
    week = week_of([350.0] * class_days + [0.0] * (7 - class_days))
    assert week.monotony == pytest.approx(sqrt(class_days / (7 - class_days)))


@pytest.mark.parametrize("load", [0.0, 350.0])
def test_monotony_is_not_defined_when_all_days_are_equal(load: float) -> None:
    week = week_of([load] * 7)
    assert week.monotony is None
    assert week.strain is None


def test_a_week_has_seven_days() -> None:
    with pytest.raises(ValueError, match="7 days, not 6"):
        week_of([1.0] * 6)


@given(st.lists(loads, min_size=7, max_size=7).filter(lambda days: max(days) - min(days) > 1))
def test_weeks_agree_with_an_independent_library(days: list[float]) -> None:
    series = pd.Series(days)
    week = week_of(days)
    assert week.total == pytest.approx(float(series.sum()))
    assert week.monotony == pytest.approx(float(series.mean() / series.std(ddof=0)))


@given(st.lists(loads, min_size=1, max_size=60), st.sampled_from([7, 28]))
def test_averages_agree_with_an_independent_library(days: list[float], span: int) -> None:
    reference = pd.Series(days).ewm(span=span, adjust=False).mean()
    assert weighted_average(days, span) == pytest.approx(reference.tolist(), abs=1e-9)


@pytest.mark.parametrize(
    ("days", "ratio"), [(STEADY_THEN_UP, 1.25), (RISING, 1.41), (FALLING_THEN_UP, 1.55)]
)
def test_published_months_have_their_published_change(days: list[float], ratio: float) -> None:
    """Three months with equal rolling averages, Williams et al. 2017, Br J Sports Med 51:209."""
    assert len(days) == 28
    assert change_of_load(days) == pytest.approx(ratio, abs=0.005)
    rolling = (sum(days[-7:]) / 7) / (sum(days) / 28)
    assert rolling == pytest.approx(1.43, abs=0.005)


def test_there_is_no_change_of_nothing() -> None:
    assert change_of_load([]) is None
    assert change_of_load([0.0] * 28) is None


@pytest.mark.parametrize(
    ("this_week", "before", "told"),
    [
        (700, [700, 660], Trend.SAME),
        (900, [700, 700], Trend.MORE),
        (350, [700, 700], Trend.LESS),
        (0, [700], Trend.LESS),
        (700, [], None),
        (700, [0, 0], None),
    ],
)
def test_change_is_told_in_plain_words(
    this_week: float, before: list[float], told: Trend | None
) -> None:
    assert trend(this_week, before) == told


def test_whole_weeks_end_with_the_last_day() -> None:
    assert weeks_ending([9.0] + [1.0] * 7 + [2.0] * 7) == (7, 14)
    assert first_day(date(2026, 9, 20), weeks=2) == MONDAY
