"""Alerts found in what was said: the rule, its causes, and the order of answers."""

from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.movement import Dose
from core.reports import Bout, Reports, SessionRating, Symptom, SymptomKind
from core.watching import Alert, AlertKind, watch

FIRST = date(2026, 9, 3)
SAID = datetime(2026, 9, 3, 19, 0, tzinfo=UTC)
PLANK = Dose(variation="knees bent", amount=30)


def rated(
    week: int, effort: float | None, *, attended: bool = True, minutes: float | None = None
) -> SessionRating:
    """The whole class of that week."""
    return SessionRating(
        member="ana",
        session=f"class {week}",
        on=FIRST + timedelta(weeks=week),
        said_at=SAID + timedelta(weeks=week),
        attended=attended,
        effort=effort,
        minutes=minutes,
    )


def plank(
    week: int,
    effort: float | None = None,
    completed: float | None = None,
    *,
    reserve: float | None = None,
    movement: str = "Side plank",
) -> Bout:
    """The plank of that week."""
    return Bout(
        member="ana",
        session=f"class {week}",
        on=FIRST + timedelta(weeks=week),
        said_at=SAID + timedelta(weeks=week),
        movement=movement,
        dose=PLANK,
        effort=effort,
        completed=completed,
        reserve=reserve,
    )


def found(*said: SessionRating | Bout) -> list[AlertKind]:
    """The kinds of alert in this history."""
    return [alert.kind for alert in alerts(*said)]


def alerts(*said: SessionRating | Bout) -> tuple[Alert, ...]:
    """The alerts in this history."""
    return watch(
        Reports(
            ratings=tuple(each for each in said if isinstance(each, SessionRating)),
            bouts=tuple(each for each in said if isinstance(each, Bout)),
        )
    )


@pytest.mark.parametrize(
    ("ratings", "raised"),
    [
        ([8, 9.5], False),
        ([9.5, 9.5], True),
        ([9.4, 10], False),
        ([10, 5, 10], True),
        ([10, 5, 5, 10], False),
        ([10, 10, 5], True),
        ([10, 10, 5, 5], False),
    ],
)
def test_two_of_the_last_three_answered_classes_are_too_many(
    ratings: list[float], raised: bool
) -> None:
    kinds = found(*(rated(week, effort) for week, effort in enumerate(ratings)))
    assert (AlertKind.MAXIMAL_CLASSES in kinds) is raised


def test_classes_without_an_answer_or_missed_do_not_count() -> None:
    away = [rated(week, None, attended=False) for week in (1, 2, 3)]
    assert AlertKind.MAXIMAL_CLASSES in found(rated(0, 10), *away, rated(4, 10))


def test_an_unfinished_movement_makes_a_class_count_as_maximal() -> None:
    history = (rated(0, 5), plank(0, completed=10), rated(1, 10))
    assert AlertKind.MAXIMAL_CLASSES in found(*history)


@pytest.mark.parametrize("calm", [8.0, None], ids=["rated lower", "not rated"])
def test_the_same_movement_twice_in_a_row_is_too_much(calm: float | None) -> None:
    assert AlertKind.MAXIMAL_MOVEMENT in found(plank(0, 10), plank(1, completed=20))
    between = found(plank(0, 10), plank(1, calm), plank(2, 10))
    assert (AlertKind.MAXIMAL_MOVEMENT in between) is (calm is None)


def test_a_third_maximal_class_has_the_cause_of_the_second() -> None:
    two = alerts(rated(0, 10), rated(1, 10))
    three = alerts(rated(0, 10), rated(1, 10), rated(2, 10))
    assert [each.cause for each in two] == [each.cause for each in three]
    assert len(three[0].evidence) == 3


def test_a_new_run_is_a_new_cause() -> None:
    run = [rated(week, effort) for week, effort in enumerate([10, 10, 5, 5, 5, 10, 10])]
    assert [each.cause for each in alerts(*run[:2])] != [each.cause for each in alerts(*run)]


@given(
    st.lists(st.integers(0, 10), min_size=1, max_size=8).flatmap(
        lambda efforts: st.tuples(st.just(efforts), st.permutations(range(len(efforts))))
    )
)
def test_the_order_of_the_answers_does_not_matter(drawn: tuple[list[int], list[int]]) -> None:
    efforts, order = drawn
    history = [rated(week, effort) for week, effort in enumerate(efforts)]
    assert alerts(*history) == alerts(*(history[place] for place in order))


@pytest.mark.parametrize(
    ("kind", "told"),
    [
        (SymptomKind.SORENESS, []),
        (SymptomKind.PAIN, [AlertKind.PAIN]),
        (SymptomKind.WARNING, [AlertKind.WARNING]),
    ],
)
def test_pain_and_warning_signs_are_told_until_both_clear_them(
    kind: SymptomKind, told: list[AlertKind]
) -> None:
    def kinds(member: datetime | None, instructor: datetime | None) -> list[AlertKind]:
        symptom = Symptom(
            member="ana",
            kind=kind,
            on=FIRST,
            said_at=SAID,
            session="class 0",
            cleared_by_member=member,
            cleared_by_instructor=instructor,
        )
        return [each.kind for each in watch(Reports(symptoms=(symptom,)))]

    assert kinds(None, None) == kinds(SAID, None) == kinds(None, SAID) == told
    assert kinds(SAID, SAID) == []
