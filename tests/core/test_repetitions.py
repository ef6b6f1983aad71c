"""Repetition formulas give the published numbers and say where they end."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.repetitions import brzycki, epley, one_repetition_maximum, trusted

HANDBOOK = {1: 100, 2: 95, 3: 93, 4: 90, 5: 87, 6: 85, 7: 83, 8: 80, 9: 77, 10: 75, 12: 70}
"""Percent of one repetition maximum, the table that training handbooks print (secondary page)."""


def test_both_formulas_meet_at_ten_repetitions() -> None:
    assert epley(10) == pytest.approx(0.75)
    assert brzycki(10) == pytest.approx(0.75)


def test_a_hundred_kilograms_ten_times_is_a_third_more_once() -> None:
    assert one_repetition_maximum(100, 10) == pytest.approx(133.33, abs=0.005)


@pytest.mark.parametrize(("repetitions", "percent"), HANDBOOK.items())
def test_both_formulas_stay_near_the_handbook_table(repetitions: int, percent: int) -> None:
    assert 100 * epley(repetitions) == pytest.approx(percent, abs=3.5)
    assert 100 * brzycki(repetitions) == pytest.approx(percent, abs=2.5)


def test_ten_with_three_left_is_lighter_than_five_with_three_left() -> None:
    """The fewer, the heavier: loads for 13 and for 8 repetitions to failure."""
    assert epley(13) / epley(8) == pytest.approx(0.8837, abs=0.00005)
    assert brzycki(13) / brzycki(8) == pytest.approx(0.8276, abs=0.00005)


def test_trust_ends_after_ten_repetitions() -> None:
    """Reynolds et al. 2006, J Strength Cond Res 20:584."""
    assert trusted(10)
    assert not trusted(10.5)
    assert not trusted(0)


@pytest.mark.parametrize("repetitions", [0, 0.5, 12.5, 40])
def test_no_single_lift_is_worked_out_from_too_few_or_too_many(repetitions: float) -> None:
    with pytest.raises(ValueError, match="no single lift"):
        one_repetition_maximum(100, repetitions)


def test_the_formulas_refuse_what_they_cannot_mean() -> None:
    with pytest.raises(ValueError, match="negative"):
        epley(-1)
    with pytest.raises(ValueError, match="under 37"):
        brzycki(37)


@given(st.floats(0, 36), st.floats(0, 36))
def test_more_repetitions_never_allow_more_load(one: float, other: float) -> None:
    few, many = sorted((one, other))
    assert epley(many) <= epley(few)
    assert brzycki(many) <= brzycki(few)
