"""Who counts as away or as a newcomer, from what was said, noted, and what a habit explains."""

from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core import rules
from core.record import Record, records
from core.reports import Bout, Reports, SessionRating
from tests.simulation.histories import MONDAY, bout
from tests.simulation.plans import SIDE_PLANK

VARIATIONS = {"Side plank": frozenset(each.name for each in SIDE_PLANK.ladder)}


def others(weeks: int) -> tuple[Bout, ...]:
    """Somebody else is in every class."""
    return tuple(bout(7, week=week, member="Bo") for week in range(weeks))


def noted(week: int, *, attended: bool) -> SessionRating:
    """The instructor's tap for Ana, or her own."""
    of_it = bout(None, week=week)
    return SessionRating(
        member="Ana", session=of_it.session, on=of_it.on, said_at=of_it.said_at, attended=attended
    )


def record(
    weeks: int,
    answered: tuple[int, ...],
    *,
    there: tuple[int, ...] = (),
    missed: tuple[int, ...] = (),
) -> Record:
    """Of Ana before the class of that week; the group has met every week until then."""
    mine = tuple(bout(6, week=week) for week in answered)
    taps = [noted(week, attended=True) for week in there]
    taps += [noted(week, attended=False) for week in missed]
    reports = Reports(bouts=(*others(weeks), *mine), ratings=tuple(taps)).settled()
    found = records(reports, ("Ana",), VARIATIONS, MONDAY + timedelta(weeks=weeks))
    return found["Ana", "Side plank"]


def days_away(
    weeks: int,
    answered: tuple[int, ...],
    *,
    there: tuple[int, ...] = (),
    missed: tuple[int, ...] = (),
) -> int | None:
    """The same, for who counts as away."""
    return record(weeks, answered, there=there, missed=missed).days_away


ALWAYS = tuple(range(20))
THREE_IN_FOUR = tuple(week for week in range(20) if week % 4 != 3)


def test_who_was_there_last_week_was_not_away() -> None:
    assert days_away(20, ALWAYS) is None


@pytest.mark.parametrize("missed", [(), (19,)])
def test_one_class_of_a_weekly_group_is_not_two_weeks(missed: tuple[int, ...]) -> None:
    assert days_away(20, ALWAYS[:-1], missed=missed) is None


def test_two_classes_surely_missed_are_a_break_whatever_the_habit() -> None:
    """After two weeks away the first class is easier (Caterisano et al. 2019)."""
    assert days_away(20, THREE_IN_FOUR[:-2], missed=(17, 18, 19)) == 28
    assert days_away(19, THREE_IN_FOUR[:-2], missed=(17, 18)) == 21


def test_a_tap_ends_a_break_though_nothing_was_answered() -> None:
    assert days_away(20, ALWAYS[:10]) == 77
    assert days_away(20, ALWAYS[:10], there=(19,)) is None
    assert days_away(20, ALWAYS[:10], there=(14,), missed=tuple(range(15, 20))) == 42


def test_silence_is_a_break_for_who_always_answers_and_none_for_who_often_does_not() -> None:
    assert days_away(20, ALWAYS[:-2]) == 21
    assert days_away(19, THREE_IN_FOUR[:-2]) is None


def test_who_was_there_without_answering_has_a_habit_of_answering_nothing() -> None:
    """Taps of "was there" and "wasn't there" are no silence."""
    always = tuple(range(17))
    assert days_away(19, always[::2], there=always[1::2]) == 21
    assert days_away(19, always[::2], missed=always[1::2]) == 21
    assert days_away(19, always[::2]) is None


def test_long_silence_always_counts() -> None:
    one_in_four = tuple(range(0, 16, 4))
    assert days_away(16, one_in_four) == rules.LONG_SILENCE_DAYS
    assert days_away(15, one_in_four) is None


def test_of_a_newcomer_no_habit_is_known() -> None:
    assert days_away(3, (0,)) == 21


def test_a_time_without_classes_is_a_break_for_everybody() -> None:
    reports = Reports(bouts=others(3))
    on = MONDAY + timedelta(weeks=2, days=rules.BREAK_DAYS)
    found = records(reports, ("Bo",), VARIATIONS, on)
    assert found["Bo", "Side plank"].days_away == rules.BREAK_DAYS


weeks = st.sets(st.integers(0, 11), max_size=12).map(lambda each: tuple(sorted(each)))


@settings(max_examples=100, deadline=None)
@given(answered=weeks, missed=weeks)
def test_to_know_of_an_absence_never_hides_a_break(
    answered: tuple[int, ...], missed: tuple[int, ...]
) -> None:
    """What the instructor notes beside the answers only makes it surer."""
    if not answered:
        return
    last = tuple(week for week in missed if week > max(answered))
    without = days_away(12, answered)
    assert without is None or days_away(12, answered, missed=last) == without


@settings(max_examples=50, deadline=None)
@given(answered=weeks, there=weeks)
def test_two_weeks_after_the_last_sign_of_them_nobody_is_away_for_longer_than_that(
    answered: tuple[int, ...], there: tuple[int, ...]
) -> None:
    away = days_away(12, answered, there=there)
    seen = max((*answered, *there), default=None)
    assert away is None or (seen is not None and away == 7 * (12 - seen) >= rules.BREAK_DAYS)


def test_members_say_nothing_about_each_other() -> None:
    """Whatever one does, the records of the others stay."""
    mine = tuple(bout(10, week=week) for week in range(3))
    before = records(Reports(bouts=others(5)), ("Bo",), VARIATIONS, MONDAY + timedelta(weeks=5))
    both = Reports(bouts=(*others(5), *mine)).settled()
    after = records(both, ("Ana", "Bo"), VARIATIONS, MONDAY + timedelta(weeks=5))
    assert _of_bo(before) == _of_bo(after)
    assert after["Ana", "Side plank"].spent


def _of_bo(found: dict[tuple[str, str], Record]) -> Record:
    return found["Bo", "Side plank"]


def test_who_was_at_three_classes_is_used_to_training_and_silence_tells_nothing() -> None:
    assert not record(3, (0, 2)).accustomed
    assert not record(3, (0, 2), missed=(1,)).accustomed
    assert record(3, (0, 1, 2)).accustomed
    assert record(3, (0,), there=(1, 2)).accustomed


def test_who_comes_back_from_a_break_is_not_used_to_training() -> None:
    assert record(20, ALWAYS[:10]).days_away == 77
    assert not record(20, ALWAYS[:10]).accustomed
    assert record(21, (*ALWAYS[:10], 20)).accustomed
