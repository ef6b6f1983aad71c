"""The last classes at a glance, member by member, and where the room stands."""

from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta

import pytest

from core.advice import advise, believe
from core.grid import MOST_CLASSES, Felt, grid, spreads
from core.movement import Dose
from core.reports import Bout, Reports, SessionRating
from tests.simulation.plans import mixed

FIRST = date(2026, 1, 8)


def day(week: int) -> date:
    return FIRST + timedelta(weeks=week)


def held(weeks: int) -> tuple[tuple[str, date], ...]:
    return tuple((f"week {week}", day(week)) for week in range(weeks))


def rating(week: int, effort: float | None, member: str = "ana") -> SessionRating:
    at = datetime.combine(day(week), time(20), tzinfo=UTC)
    return SessionRating(
        member=member, session=f"week {week}", on=day(week), said_at=at, effort=effort
    )


def cells(*ratings: SessionRating, bouts: tuple[Bout, ...] = (), weeks: int = 1) -> list[Felt]:
    found = grid(Reports(ratings=ratings, bouts=bouts), ("ana",), held(weeks), target=7.0)
    return list(found.rows[0].cells)


@pytest.mark.parametrize(
    ("effort", "felt"),
    [
        (5.9, Felt.EASIER), (6, Felt.AS_PLANNED), (8, Felt.AS_PLANNED), (8.1, Felt.HARDER),
        (9.4, Felt.HARDER), (9.5, Felt.MAXIMAL), (10, Felt.MAXIMAL), (None, Felt.UNRATED),
    ],
)  # fmt: skip
def test_a_rating_is_sorted_by_the_target(effort: float | None, felt: Felt) -> None:
    assert cells(rating(0, effort)) == [felt]


def test_a_movement_that_was_cut_short_makes_the_class_maximal() -> None:
    dose = Dose(variation="feet stacked", amount=30)
    at = rating(0, 6).said_at
    cut = Bout(
        member="ana", session="week 0", on=day(0), said_at=at, movement="Side plank",
        dose=dose, completed=20,
    )  # fmt: skip
    assert cells(rating(0, 6), bouts=(cut,)) == [Felt.MAXIMAL]


def test_silence_counts_only_after_a_first_answer() -> None:
    found = cells(rating(1, 7), weeks=3)
    assert found == [Felt.NOT_YET, Felt.AS_PLANNED, Felt.SILENT]


def test_who_was_not_there_is_absent() -> None:
    assert cells(replace(rating(0, None), attended=False)) == [Felt.ABSENT]


def test_the_latest_classes_are_shown_oldest_first() -> None:
    found = grid(Reports(), ("ana",), held(12)[::-1], target=7.0)
    assert found.days == tuple(day(week) for week in range(12))[-MOST_CLASSES:]


def test_members_stay_in_their_order_and_others_are_left_out() -> None:
    reports = Reports(ratings=(rating(0, 7, "left"), rating(0, 10, "ben")))
    found = grid(reports, ("cleo", "ben"), held(1), target=7.0)
    assert [row.member for row in found.rows] == ["cleo", "ben"]
    assert found.count(Felt.MAXIMAL) == 1
    assert found.count(Felt.AS_PLANNED) == 0


def test_everybody_stands_once_under_the_option_they_are_given() -> None:
    plan, members = mixed(), ("ana", "ben", "cleo")
    advice = advise(plan, Reports(), members, day(0))
    found = spreads(believe(plan, Reports(), members, day(0)), plan, advice.options)
    assert [each.movement for each in found] == [line.movement.name for line in plan.lines]
    for each in found:
        assert sum(len(mark.members) for mark in each.options) == len(members)


def test_a_harder_option_lies_further_along() -> None:
    plan, members = mixed(), ("ana", "ben")
    (option, *_) = advise(plan, Reports(), members, day(0)).options
    more = replace(option, dose=replace(option.dose, amount=option.dose.amount + 20))
    found = spreads(believe(plan, Reports(), members, day(0)), plan, (option, more))
    easier, harder = found[0].options
    assert easier.at < harder.at
