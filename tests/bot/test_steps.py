"""A clock that leaps is noticed, one that goes on isn't."""

from datetime import timedelta

import pytest

from bot.steps import Steps
from tests.fixed_clock import NOON


@pytest.mark.parametrize("hours", [48, 5, -5])
def test_a_leap_is_seen_once_and_as_far_as_it_was(hours: int) -> None:
    steps, leap = Steps(), timedelta(hours=hours)
    assert not steps.seen(NOON, 100.0)
    assert not steps.seen(NOON + timedelta(seconds=15), 115.0)
    assert steps.seen(NOON + timedelta(seconds=30) + leap, 130.0) == leap
    assert not steps.seen(NOON + timedelta(seconds=45) + leap, 145.0)


def test_a_clock_that_is_put_right_by_seconds_has_not_leapt() -> None:
    steps = Steps()
    steps.seen(NOON, 0.0)
    assert not steps.seen(NOON + timedelta(seconds=20), 0.0)


def test_a_computer_that_is_busy_for_minutes_has_not_slept() -> None:
    steps = Steps()
    steps.seen(NOON, 0.0)
    assert not steps.seen(NOON + timedelta(minutes=5), 300.0)
