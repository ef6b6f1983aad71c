"""A member's progress: what is counted, what is shown, and that it is about nobody else."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta

import pytest

from core.axis import Reach
from core.movement import Dose, Measure, Movement, Variation
from core.plan import Plan, PlanLine
from core.progress import ENOUGH_CLASSES, MOST_RATINGS, Progress, progress
from core.reports import Bout, Reports, SessionRating
from core.standing import MOST_STANDINGS, Standing

FIRST = date(2026, 1, 8)
MEMBERS = ("ana", "ben")


def line(name: str) -> PlanLine:
    ladder = (Variation(name="bent", demand=0.7), Variation(name="straight", demand=1.0))
    movement = Movement(
        name=name, measure=Measure.HOLD, ladder=ladder, standard="straight",
        smallest=10, largest=90, step=5,
    )  # fmt: skip
    dose = Dose(variation="straight", amount=30, sets=2)
    return PlanLine(movement=movement, dose=dose, target=7.0, ceiling=9.0)


PLAN = Plan(lines=(line("Side plank"), line("Wall sit")), minutes=50, target=7.0, ceiling=9.0)


def day(week: int) -> date:
    return FIRST + timedelta(weeks=week)


def rating(week: int, effort: float | None, member: str = "ana") -> SessionRating:
    at = datetime.combine(day(week), time(20), tzinfo=UTC)
    return SessionRating(
        member=member, session=f"week {week}", on=day(week), said_at=at, effort=effort
    )


def hold(
    week: int, amount: float, effort: float, member: str = "ana", movement: str = "Side plank"
) -> Bout:
    at = datetime.combine(day(week), time(20), tzinfo=UTC)
    return Bout(
        member=member, session=f"week {week}", on=day(week), said_at=at, movement=movement,
        dose=Dose(variation="straight", amount=amount), effort=effort,
    )  # fmt: skip


LATER = day(60)


def of_ana(
    ratings: Iterable[SessionRating] = (), bouts: Iterable[Bout] = (), plan: Plan = PLAN,
    on: date = LATER,
) -> Progress:  # fmt: skip
    return progress(plan, Reports(ratings=tuple(ratings), bouts=tuple(bouts)), MEMBERS, "ana", on)


def reach(middle: float, half: float) -> Reach:
    return Reach(low=middle - half, middle=middle, high=middle + half)


def standing(now: Reach, began: Reach) -> Standing:
    return Standing(
        movement=PLAN.lines[0].movement, variation="straight", repetitions=None, steps=(),
        now=now, began=began, can=now, could=began,
    )  # fmt: skip


def test_ratings_are_sorted_by_the_range_and_both_ends_are_in_it() -> None:
    found = of_ana(rating(week, effort) for week, effort in enumerate((5.5, 6, 7, 8, 8.5, 10)))
    assert (found.easier, found.as_planned, found.harder) == (1, 3, 2)
    assert (found.low, found.high) == (6.0, 8.0)


def test_the_ratings_stand_in_the_order_of_the_classes() -> None:
    found = of_ana([rating(2, 7), rating(0, 5), rating(1, 9)])
    assert [(each.on, each.effort) for each in found.ratings] == [
        (day(0), 5), (day(1), 9), (day(2), 7),
    ]  # fmt: skip


def test_only_what_was_rated_counts() -> None:
    absent = replace(rating(1, None), attended=False)
    assert of_ana([rating(0, 7), absent, rating(2, None)]).rated == 1


def test_a_corrected_rating_counts_once() -> None:
    corrected = replace(rating(0, 9), said_at=rating(0, 9).said_at + timedelta(hours=1))
    assert [each.effort for each in of_ana([corrected, rating(0, 4)]).ratings] == [9]


def test_what_lies_ahead_is_not_looked_at() -> None:
    found = of_ana([rating(0, 7), rating(5, 9)], [hold(5, 30, 7)], on=day(4))
    assert (found.rated, found.standings) == (1, ())


def test_of_a_long_history_the_latest_classes_are_shown_and_all_are_counted() -> None:
    found = of_ana(rating(week, 7) for week in range(30))
    assert found.rated == 30
    assert [each.on for each in found.ratings] == [day(week) for week in range(30)][-MOST_RATINGS:]


@pytest.mark.parametrize(("classes", "enough"), [(0, False), (2, False), (3, True)])
def test_a_picture_needs_three_rated_classes(classes: int, enough: bool) -> None:
    assert ENOUGH_CLASSES == 3
    assert of_ana(rating(week, 7) for week in range(classes)).enough is enough


def test_other_members_are_not_in_it() -> None:
    own = [rating(0, 7)], [hold(0, 30, 7)]
    found = of_ana([*own[0], rating(0, 10, "ben")], [*own[1], hold(0, 30, 2, "ben", "Wall sit")])
    assert found.rated == 1
    assert [each.movement.name for each in found.standings] == ["Side plank"]


def test_a_movement_that_nothing_was_told_of_is_not_shown() -> None:
    silent = replace(hold(0, 30, 7, movement="Wall sit"), effort=None)
    found = of_ana(bouts=[hold(0, 30, 7), silent])
    assert [each.movement.name for each in found.standings] == ["Side plank"]


def test_answers_about_a_variation_that_the_plan_dropped_are_left_out() -> None:
    dropped = replace(hold(0, 30, 7), dose=Dose(variation="on the head", amount=30))
    assert of_ana(bouts=[dropped]).standings == ()


def test_of_many_movements_those_told_of_most_are_shown_in_the_plans_order() -> None:
    names = [f"Movement {number}" for number in range(MOST_STANDINGS + 2)]
    plan = replace(PLAN, lines=tuple(map(line, names)))
    once = [hold(0, 30, 7, movement=name) for name in names]
    again = [hold(1, 30, 7, movement=name) for name in names[2:]]
    found = of_ana(bouts=[*once, *again], plan=plan)
    assert [each.movement.name for each in found.standings] == names[2:]
    assert found.unshown == 2


def test_three_answers_are_a_beginning_and_nothing_to_compare_with() -> None:
    (found,) = of_ana(bouts=[hold(week, 30, 7) for week in range(3)]).standings
    assert (found.began, found.could, found.changed) == (None, None, False)
    (found,) = of_ana(bouts=[hold(week, 30, 7) for week in range(4)]).standings
    assert found.began is not None


def test_who_holds_longer_and_longer_at_the_same_effort_is_told_so() -> None:
    found = of_ana(bouts=[hold(week, 30 * 1.03**week, 7) for week in range(20)], on=day(20))
    changed = found.most_changed
    assert changed is not None
    assert changed.gain > 0
    assert changed.could is not None
    assert changed.can.middle > 1.3 * changed.could.middle


def test_who_stays_the_same_is_not_told_of_a_change() -> None:
    found = of_ana(bouts=[hold(week, 30, 7) for week in range(12)], on=day(12))
    assert found.most_changed is None


def test_a_first_answer_that_was_only_wrong_is_no_loss() -> None:
    bouts = [hold(0, 30, 3), *(hold(week, 30, 8) for week in range(1, 8))]
    assert of_ana(bouts=bouts, on=day(8)).most_changed is None


def test_a_gain_is_told_before_a_loss() -> None:
    up, down = reach(3.0, 0.1), reach(2.0, 0.1)
    gained, lost = standing(now=up, began=down), standing(now=down, began=up)
    assert lost.changed
    both = replace(of_ana(), standings=(lost, gained))
    assert both.most_changed == gained
    assert replace(both, standings=(lost,)).most_changed == lost


@pytest.mark.parametrize(
    ("now", "began", "changed"),
    [
        pytest.param(2.15, 2.0, True, id="a gain beyond the wider of both doubts"),
        pytest.param(2.05, 2.0, False, id="a gain within them"),
        pytest.param(1.85, 2.0, False, id="a loss within both doubts together"),
        pytest.param(1.75, 2.0, True, id="a loss beyond them"),
    ],
)
def test_a_loss_has_to_be_clearer_than_a_gain(now: float, began: float, changed: bool) -> None:
    assert standing(now=reach(now, 0.1), began=reach(began, 0.1)).changed is changed


def test_the_vaguest_is_what_was_told_of_least() -> None:
    bouts = [hold(week, 30, 7) for week in range(6)] + [hold(0, 30, 7, movement="Wall sit")]
    vague = of_ana(bouts=bouts, on=day(6)).vaguest
    assert vague is not None
    assert vague.movement.name == "Wall sit"


def test_the_order_in_which_answers_come_in_changes_nothing() -> None:
    ratings = [rating(week, 5 + week % 4) for week in range(6)]
    bouts = [hold(week, 30, 5 + week % 4) for week in range(6)]
    assert of_ana(ratings, bouts) == of_ana(ratings[::-1], bouts[::-1])
