"""Tests of core.asking: which movements are worth a member's ten seconds."""

from datetime import timedelta

import pytest

from core.advice import advise
from core.reports import Reports
from tests.simulation.histories import MONDAY, bout
from tests.simulation.plans import mixed

ON = MONDAY + timedelta(weeks=4)


@pytest.mark.parametrize(("wanted", "asked"), [(0, 0), (1, 1), (2, 2), (3, 3), (9, 3)])
def test_never_more_than_wanted_and_never_more_than_three(wanted: int, asked: int) -> None:
    """Ten seconds a class: three movements at most."""
    (ask,) = advise(mixed(), Reports(), ("Ana",), ON, wanted).asks
    assert len(set(ask.movements)) == len(ask.movements) == asked
    assert set(ask.reserve) <= set(ask.movements)


def test_what_was_never_told_of_comes_before_what_is_known() -> None:
    """Everything is asked of once before anything is asked of often."""
    known = [bout(7, week=week) for week in range(3)]
    known += [
        bout(7, 45, week=week, movement="Wall sit", variation="thighs level") for week in (0, 1)
    ]
    (ask,) = advise(mixed(), Reports(bouts=tuple(known)), ("Ana",), ON).asks
    assert not {"Side plank", "Wall sit"} & set(ask.movements)


def test_what_was_maximal_is_asked_about_again() -> None:
    """Until it is told of again it must not get harder, so the answer is worth most."""
    plan = mixed(2)
    said = [bout(10, 30, week=3)]
    said += [bout(7, 10, week=week, movement="Push-up", variation="knees") for week in range(4)]
    (ask,) = advise(plan, Reports(bouts=tuple(said)), ("Ana",), ON, 1).asks
    assert ask.movements == ("Side plank",)


def test_who_always_answers_is_not_asked_more_than_who_does_not() -> None:
    """Answering faithfully must not be punished with more questions."""
    faithful = [bout(7, week=week) for week in range(4)]
    silent = [bout(7, week=0, member="Bo")]
    advice = advise(mixed(), Reports(bouts=(*faithful, *silent)), ("Ana", "Bo"), ON)
    assert [len(ask.movements) for ask in advice.asks] == [2, 2]


def test_the_reserve_is_worth_its_tap_while_little_is_known() -> None:
    """It doesn't carry the personal way of rating, so it teaches most at first."""
    (ask,) = advise(mixed(), Reports(), ("Ana",), ON).asks
    assert ask.reserve == ask.movements
