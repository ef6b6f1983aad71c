"""Tests of core.capacity.laws against the published values."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from core import people
from core.capacity import laws
from core.movement import Measure
from core.repetitions import brzycki, epley

ONE = np.ones(1)


def number(value: float) -> laws.Numbers:
    return np.array([value])


def test_a_hold_of_30_seconds_at_6_means_50_are_possible() -> None:
    """Effort is linear in the fraction of the possible hold (Shepherd et al. 2013)."""
    strength = laws.strength_at(Measure.HOLD, number(30), ONE, number(6.0))
    assert laws.possible(Measure.HOLD, strength, ONE)[0] == pytest.approx(50)


def test_7_of_10_of_a_possible_50_seconds_is_35() -> None:
    """The same: 50 s at a target of 7 is 35 s."""
    strength = laws.strength(Measure.HOLD, number(50), ONE)
    assert laws.effort(Measure.HOLD, number(35), ONE, strength)[0] == pytest.approx(7)


@pytest.mark.parametrize(("effort", "left"), [(10.0, 0), (9.0, 1), (8.0, 2), (7.0, 3)])
def test_up_to_ten_repetitions_effort_is_ten_less_the_reserve(effort: float, left: int) -> None:
    """Zourdos et al. 2016, J Strength Cond Res 30:267."""
    strength = laws.strength(Measure.REPS, number(6.0 + left), ONE)
    assert laws.effort(Measure.REPS, number(6), ONE, strength)[0] == pytest.approx(effort)


def test_a_hundred_kilograms_ten_times_is_one_lift_of_133() -> None:
    """Epley 1985, seen on a secondary page."""
    strength = laws.strength(Measure.LOAD, number(10), number(100))
    assert np.exp(strength)[0] == pytest.approx(133.33, abs=0.01)


def test_the_fewer_the_repetitions_the_heavier_the_load() -> None:
    """13- and 8-repetition loads: ratio 0.8837 by Epley, and the same way by Brzycki (computed)."""
    lifted = laws.strength(Measure.LOAD, number(8), number(1.0))
    for_thirteen = np.exp(lifted - laws.strength(Measure.LOAD, number(13), ONE))
    assert for_thirteen[0] == pytest.approx(epley(13) / epley(8)) == pytest.approx(0.8837, abs=1e-4)
    assert brzycki(13) / brzycki(8) == pytest.approx(0.8276, abs=1e-4)


@pytest.mark.parametrize("seconds", [30, 60, 240])
def test_demand_shortens_a_hold_as_the_published_law_does(seconds: float) -> None:
    """Endurance = -ln f / (k f) minutes (Ma et al. 2011), 1.3863 min at f = 0.5 and k = 1."""

    def endurance(share: float) -> float:
        return float(-np.log(share) / share)

    assert endurance(0.5) == pytest.approx(1.3863, abs=1e-4)
    share = brentq(lambda share: 60 * endurance(share) / people.HOLD_FATIGUE - seconds, 0.01, 0.999)
    here = laws.strength(Measure.HOLD, number(seconds), ONE)
    there = laws.possible(Measure.HOLD, here - laws.shift(1.25), ONE)
    assert there[0] == pytest.approx(60 * endurance(1.25 * share) / people.HOLD_FATIGUE)


@given(seconds=st.floats(0.01, 3600))
def test_what_can_be_held_and_its_strength_are_inverse(seconds: float) -> None:
    """Pure mathematics, also where the law is continued below a few seconds."""
    strength = laws.strength(Measure.HOLD, number(seconds), ONE)
    assert laws.possible(Measure.HOLD, strength, ONE)[0] == pytest.approx(seconds)


@given(
    measure=st.sampled_from(list(Measure)),
    amount=st.floats(1, 60),
    effort=st.floats(1, 10),
)
def test_strength_at_an_effort_gives_that_effort_back(
    measure: Measure, amount: float, effort: float
) -> None:
    """Pure mathematics: the two are inverse."""
    strength = laws.strength_at(measure, number(amount), ONE, number(effort))
    assert laws.effort(measure, number(amount), ONE, strength)[0] == pytest.approx(effort)


@given(
    measure=st.sampled_from(list(Measure)),
    amount=st.floats(1, 60),
    strength=st.floats(0.2, 3),
)
def test_more_of_it_is_harder_and_more_strength_makes_it_easier(
    measure: Measure, amount: float, strength: float
) -> None:
    """Common sense."""
    here = laws.effort(measure, number(amount), ONE, number(strength))
    more = laws.effort(measure, number(amount * 1.1), ONE, number(strength))
    stronger = laws.effort(measure, number(amount), ONE, number(strength + 0.1))
    assert more[0] > here[0] > stronger[0]
    assert laws.slope(measure, number(amount), ONE, number(strength))[0] < 0
