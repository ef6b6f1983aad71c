"""Ratings are compared with what was left, and nothing is said before there is enough."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest

from core.movement import Dose, Measure, Movement, Variation
from core.plan import Plan, PlanLine
from core.reports import Bout, Reports
from core.selfcheck import Direction, Fit, SelfCheck, check_ratings, compare


def line(name: str, measure: Measure) -> PlanLine:
    movement = Movement(
        name=name,
        measure=measure,
        ladder=(Variation(name="standard", demand=1.0),),
        standard="standard",
        smallest=5,
        largest=60,
        step=5,
    )
    dose = Dose(variation="standard", amount=30)
    return PlanLine(movement=movement, dose=dose, target=7, ceiling=9)


PLAN = Plan(
    lines=(
        line("Plank", Measure.HOLD),
        line("Squat", Measure.REPS),
        line("Walk", Measure.MINUTES),
    ),
    minutes=50,
    target=7,
    ceiling=9,
)


def bout(
    effort: float | None,
    reserve: float | None = None,
    completed: float | None = None,
    movement: str = "Squat",
    week: int = 0,
) -> Bout:
    day = date(2026, 9, 3) + timedelta(weeks=week)
    return Bout(
        member="Ana",
        session=day.isoformat(),
        on=day,
        said_at=datetime(2026, 9, 3, 20, tzinfo=UTC),
        movement=movement,
        dose=Dose(variation="standard", amount=30),
        completed=completed,
        effort=effort,
        reserve=reserve,
    )


def check(*bouts: Bout) -> SelfCheck | None:
    placed = tuple(replace(each, session=str(n), on=each.on) for n, each in enumerate(bouts))
    return check_ratings(Reports(bouts=placed), PLAN, "Ana")


def weekly(*answers: tuple[float, float]) -> SelfCheck:
    found = check(*(bout(effort, left, week=n) for n, (effort, left) in enumerate(answers)))
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("given", "implied"),
    [
        (bout(8, reserve=3), 7),
        (bout(8, reserve=0), 10),
        (bout(8, reserve=10, movement="Plank"), 7.5),
        (bout(8, reserve=0, movement="Plank"), 10),
        (bout(8, completed=20), 10),
    ],
)
def test_what_was_left_implies_an_effort(given: Bout, implied: float) -> None:
    """Repetitions: Zourdos et al. 2016. Holds: share of what is possible, Shepherd et al. 2013."""
    found = compare(given, PLAN)
    assert found is not None
    assert found.implied == pytest.approx(implied)
    assert found.difference == pytest.approx(8 - implied)


@pytest.mark.parametrize(
    "given",
    [
        bout(None, reserve=3),
        bout(8),
        bout(3, reserve=9),
        bout(10, completed=20),
        bout(8, reserve=5, movement="Walk"),
        bout(8, reserve=5, movement="Row"),
    ],
)
def test_what_says_nothing_else_is_not_compared(given: Bout) -> None:
    assert compare(given, PLAN) is None


def test_nothing_is_said_before_there_is_enough() -> None:
    assert check(*(bout(7, 3, week=n) for n in range(4))) is None
    assert check(*(bout(7, week=n) for n in range(20))) is None


def test_ratings_that_go_with_what_was_left_are_close() -> None:
    found = weekly((7, 3), (8, 2), (9, 1), (7, 3), (6, 4))
    assert (found.bias, found.spread, found.fit) == (0, 0, Fit.CLOSE)
    assert found.doubt > 0
    assert found.direction is None


def test_someone_who_rates_low_is_found() -> None:
    found = weekly((5, 3), (6, 2), (7, 1), (5, 3), (6, 3))
    assert found.fit is Fit.LOWER
    assert found.bias == pytest.approx(-1.8)


def test_someone_who_rates_high_is_found() -> None:
    assert weekly((9, 3), (9, 2), (10, 2), (9, 3), (9, 3)).fit is Fit.HIGHER


def test_uneven_ratings_stay_open() -> None:
    assert weekly((4, 3), (10, 2), (5, 1), (9, 4), (9, 4)).fit is Fit.OPEN


def test_learning_shows_as_coming_closer() -> None:
    early, late = [(4.0, 3.0)] * 4, [(7.0, 3.0)] * 4
    assert weekly(*early, *late).direction is Direction.CLOSER
    assert weekly(*late, *early).direction is Direction.APART
    assert weekly(*late, *late).direction is Direction.STEADY


def test_more_comparisons_leave_less_doubt() -> None:
    few, many = [(6.0, 3.0), (8.0, 3.0)] * 3, [(6.0, 3.0), (8.0, 3.0)] * 12
    assert weekly(*many).doubt < weekly(*few).doubt


def test_other_members_answers_are_not_mixed_in() -> None:
    theirs = tuple(
        replace(bout(10, 5, week=n), member="Bo", session=str(n), movement="Squat")
        for n in range(9)
    )
    assert check_ratings(Reports(bouts=theirs), PLAN, "Ana") is None
