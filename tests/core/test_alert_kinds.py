"""Every other kind of alert: when it is raised, once per cause, and when it is over."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.alert import Alert, AlertKind
from core.reports import Bout, Reports, SessionRating
from core.thresholds import Threshold, Thresholds
from core.watching import Asked, Watch, watch
from tests.core.test_watching import FIRST, plank, rated

EVERY_WEEK = tuple(
    Asked(member="ana", session=f"class {week}", on=FIRST + timedelta(weeks=week))
    for week in range(12)
)


def seen(
    *said: SessionRating | Bout,
    asked: tuple[Asked, ...] = (),
    on: date | None = None,
    **chosen: int,
) -> tuple[Alert, ...]:
    """The alerts in this history, with these numbers chosen."""
    thresholds = Thresholds(chosen=tuple((Threshold(each), chosen[each]) for each in chosen))
    reports = Reports(
        ratings=tuple(each for each in said if isinstance(each, SessionRating)),
        bouts=tuple(each for each in said if isinstance(each, Bout)),
    )
    return watch(reports, Watch(thresholds=thresholds, asked=asked, on=on))


def kinds(*said: SessionRating | Bout, **how: object) -> list[AlertKind]:
    """Their kinds."""
    return [each.kind for each in seen(*said, **how)]  # type: ignore[arg-type]


def week(number: int) -> date:
    """The day of that week's class."""
    return FIRST + timedelta(weeks=number)


# --- the maximum ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("effort", "reserve", "maximal"),
    [(9.5, None, True), (9, 0, True), (9, 1, False), (8.5, 0, False), (9, None, False)],
)
def test_nothing_left_makes_a_nine_maximal(
    effort: float, reserve: float | None, maximal: bool
) -> None:
    twice = [plank(at, effort, reserve=reserve) for at in (0, 1)]
    assert (AlertKind.MAXIMAL_MOVEMENT in kinds(*twice)) is maximal


def test_two_movements_with_nothing_left_make_a_class_maximal_whatever_was_tapped() -> None:
    def spent(at: int, *movements: str) -> list[Bout]:
        return [plank(at, 7, reserve=0, movement=each) for each in movements]

    assert kinds(*spent(0, "a", "b"), *spent(1, "c", "d")) == [AlertKind.MAXIMAL_CLASSES]
    assert kinds(*spent(0, "a"), *spent(1, "c")) == []


def test_the_same_thing_is_not_told_twice_in_other_words() -> None:
    """A movement cut short twice in a row makes both classes maximal: one alert is enough."""
    assert kinds(plank(0, completed=10), plank(1, completed=10)) == [AlertKind.MAXIMAL_MOVEMENT]


def test_a_first_class_at_the_maximum_is_told_until_the_second_was_answered() -> None:
    assert kinds(rated(0, 10)) == [AlertKind.FIRST_MAXIMAL]
    assert kinds(rated(0, 10), rated(1, 6)) == []
    assert kinds(rated(0, 10), first=0) == []


# --- out of range ---------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("efforts", "raised"),
    [
        ([8.5, 8.5, 8.5], AlertKind.ABOVE_RANGE),
        ([8.5, 8, 8.5], None),
        ([7, 8.5, 9, 9], AlertKind.ABOVE_RANGE),
        ([5, 5, 5], AlertKind.BELOW_RANGE),
        ([5, 6, 5], None),
        ([5, 5], None),
    ],
)
def test_three_in_a_row_out_of_range_are_told(
    efforts: list[float], raised: AlertKind | None
) -> None:
    history = [rated(at, effort) for at, effort in enumerate(efforts)]
    assert kinds(*history) == ([raised] if raised else [])


def test_a_fourth_one_out_of_range_continues_what_was_told() -> None:
    three = seen(*(rated(at, 5) for at in range(3)))
    four = seen(*(rated(at, 5) for at in range(4)))
    assert three[0].cause == four[0].cause
    assert len(four[0].evidence) == 3


def test_who_is_at_the_maximum_is_not_told_of_as_above_the_range_too() -> None:
    assert kinds(*(rated(at, 10) for at in range(3))) == [AlertKind.MAXIMAL_CLASSES]


@pytest.mark.parametrize("least", [2, 3, 4, 0])
def test_the_number_of_classes_in_a_row_is_the_groups_choice(least: int) -> None:
    for length in range(1, 6):
        history = [rated(at, 5) for at in range(length)]
        assert bool(kinds(*history, below=least)) is (least > 0 and length >= least)


# --- silence and breaks ---------------------------------------------------------------------


def test_three_classes_without_an_answer_are_told_and_an_answer_ends_it() -> None:
    asked = EVERY_WEEK[:4]
    assert kinds(rated(0, 7), asked=asked[:3]) == []
    assert kinds(rated(0, 7), asked=asked) == [AlertKind.QUIET]
    assert kinds(rated(0, 7), rated(3, None, attended=False), asked=asked) == []


def test_who_never_said_anything_is_told_of_as_well() -> None:
    assert kinds(asked=EVERY_WEEK[:3]) == [AlertKind.QUIET]


def test_a_longer_silence_has_the_same_cause() -> None:
    three, five = (seen(rated(0, 7), asked=EVERY_WEEK[:end])[0] for end in (4, 6))
    assert three.cause == five.cause


def test_the_first_class_after_two_weeks_away_is_told() -> None:
    away = [rated(at, None, attended=False) for at in (1, 2)]
    (alert,) = seen(rated(0, 7), *away, rated(3, 7), asked=EVERY_WEEK[:4])
    assert alert.kind is AlertKind.BACK
    assert alert.days_away == 21
    assert kinds(rated(0, 7), *away, rated(3, 7), rated(4, 7), asked=EVERY_WEEK[:5]) == []


def test_a_break_without_classes_or_questions_counts_as_one() -> None:
    assert kinds(rated(0, 7), rated(3, 7)) == [AlertKind.BACK]


def test_one_missed_class_of_a_weekly_group_is_not_two_weeks_away_unless_they_say_so() -> None:
    assert kinds(rated(0, 7), rated(2, 7), asked=EVERY_WEEK[:3]) == []
    absent = rated(1, None, attended=False)
    assert kinds(rated(0, 7), absent, rated(2, 7), asked=EVERY_WEEK[:3]) == [AlertKind.BACK]


def test_silence_is_a_break_only_for_who_usually_answers() -> None:
    faithful = [rated(at, 7) for at in range(8)]
    assert kinds(*faithful, rated(11, 7), asked=EVERY_WEEK) == [AlertKind.BACK]
    newcomer = [rated(at, 7) for at in (6, 7)]
    assert kinds(*newcomer, rated(11, 7), asked=EVERY_WEEK[6:]) == []
    now_and_then = [rated(at, 7) for at in (0, 3, 7)]
    assert kinds(*now_and_then, rated(11, 7), asked=EVERY_WEEK) == []


# --- load -----------------------------------------------------------------------------------


def test_a_week_of_much_more_than_usual_is_told_as_it_is() -> None:
    usual = [rated(at, 5, minutes=50) for at in range(3)]
    (alert,) = [
        each
        for each in seen(*usual, rated(3, 8, minutes=50), on=week(3))
        if each.kind is AlertKind.LOAD
    ]
    assert (alert.evidence[0].load, alert.evidence[0].usual) == (400, 250)


def test_a_week_of_less_is_told_only_once_it_is_over() -> None:
    usual = [rated(at, 8, minutes=50) for at in range(3)]
    less = (*usual, rated(3, 3, minutes=50))
    assert AlertKind.LOAD not in kinds(*less, on=week(3))
    assert AlertKind.LOAD in kinds(*less, on=week(4))


def test_a_week_with_a_class_of_which_nothing_is_known_says_nothing_about_load() -> None:
    usual = [rated(at, 5, minutes=50) for at in range(3)]
    silent = Asked(member="ana", session="other", on=week(1) + timedelta(days=1))
    now = (*usual, rated(3, 8, minutes=50))
    assert AlertKind.LOAD not in kinds(*now, asked=(silent,), on=week(3))


# --- everything -----------------------------------------------------------------------------


@given(st.lists(st.one_of(st.none(), st.integers(0, 10)), max_size=10))
def test_no_cause_is_raised_twice_and_no_kind_twice_about_a_member(
    efforts: list[int | None],
) -> None:
    history = [rated(at, each) for at, each in enumerate(efforts) if each is not None]
    found = seen(*history, asked=EVERY_WEEK[: len(efforts)], on=week(len(efforts)))
    assert len({each.kind for each in found}) == len(found)


@given(st.lists(st.integers(0, 10), max_size=8))
def test_what_is_switched_off_is_never_told(efforts: list[int]) -> None:
    history = [rated(at, effort, minutes=50) for at, effort in enumerate(efforts)]
    off = {each.value: 0 for each in Threshold if each is not Threshold.MAXIMAL}
    told = set(kinds(*history, asked=EVERY_WEEK, on=week(12), **off))
    assert told <= {AlertKind.MAXIMAL_CLASSES, AlertKind.MAXIMAL_MOVEMENT}


def test_only_offered_numbers_can_be_chosen() -> None:
    with pytest.raises(ValueError, match="quiet can't be 7"):
        Thresholds().with_(Threshold.QUIET, 7)


def test_tens_of_somebody_who_usually_has_plenty_left_are_not_taken_for_the_maximum() -> None:
    plenty = [plank(at, 9, reserve=15) for at in range(3)]  # 30 of 45 s possible: less than 7
    tens = (rated(3, 10), rated(4, 10))
    assert kinds(*plenty, *tens) == []
    assert kinds(*plenty[:2], *tens) == [AlertKind.MAXIMAL_CLASSES]
    stopped = (plank(3, completed=10), plank(4, completed=10))
    assert kinds(*plenty, *stopped) == [AlertKind.MAXIMAL_MOVEMENT]
