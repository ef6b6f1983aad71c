"""Positions on a movement's ladder, against the published laws of effort."""

from dataclasses import replace

import pytest

from core.advice import believe
from core.axis import Axis, Reach, axis
from core.capacity import first_belief
from core.movement import Dose, Measure, Movement, Variation
from core.plan import Plan, PlanLine
from core.reports import Reports
from tests.simulation.histories import MONDAY, bout


def line(measure: Measure, amount: float, load: float | None = None) -> PlanLine:
    ladder = (
        Variation(name="low", demand=0.7),
        Variation(name="middle", demand=1.0),
        Variation(name="high", demand=1.3),
    )
    movement = Movement(
        name="It", measure=measure, ladder=ladder, standard="middle", smallest=1, largest=90,
        step=1, load_step=None if load is None else 2,
    )  # fmt: skip
    dose = Dose(variation="middle", amount=amount, load=load)
    return PlanLine(movement=movement, dose=dose, target=7.0, ceiling=9.0)


def axis_of(of: PlanLine, variation: str = "middle") -> Axis:
    plan = Plan(lines=(of,), minutes=50, target=7.0, ceiling=9.0)
    return axis(first_belief(plan, ("ana", "ben")), of, variation)


HOLD = line(Measure.HOLD, 35)
REPS = line(Measure.REPS, 6)
LOAD = line(Measure.LOAD, 6, 12)


@pytest.mark.parametrize(
    ("of", "most"),
    [
        pytest.param(HOLD, 50, id="35 s at 7 of 50 s: linear (Shepherd et al. 2013)"),
        pytest.param(REPS, 9, id="3 left at 7 (Zourdos et al. 2016)"),
        pytest.param(LOAD, 12 * (1 + 9 / 30) / (1 + 6 / 30), id="3 left, as kilograms (Epley)"),
    ],
)
def test_who_stands_where_a_dose_is_the_target_could_just_do_this(
    of: PlanLine, most: float
) -> None:
    on = axis_of(of)
    assert on.amount(on.at_target(of.dose)) == pytest.approx(most)


@pytest.mark.parametrize("of", [HOLD, REPS, LOAD, line(Measure.MINUTES, 6)])
def test_the_steps_stand_in_the_order_of_the_ladder(of: PlanLine) -> None:
    on = axis_of(of)
    places = [on.at_target(replace(of.dose, variation=each.name)) for each in of.movement.ladder]
    assert places == sorted(places)
    assert len(set(places)) == 3


@pytest.mark.parametrize("of", [HOLD, REPS, LOAD])
def test_the_same_person_can_do_less_of_a_harder_variation(of: PlanLine) -> None:
    easy, hard = axis_of(of, "low"), axis_of(of, "high")
    assert easy.amount(easy.reach("ana").middle) > hard.amount(hard.reach("ana").middle)


def test_a_step_lies_where_the_answers_put_it_and_not_where_the_plan_does() -> None:
    """Six members find the easy variation far harder than its demand says, the standard one not."""
    members = tuple(f"member {number}" for number in range(6))
    plan = Plan(lines=(HOLD,), minutes=50, target=7.0, ceiling=9.0)
    said = [
        bout(effort, amount, week=week, member=member, movement="It", variation=variation)
        for week, (variation, amount, effort) in enumerate(
            (("middle", 35, 7), ("low", 40, 7), ("middle", 35, 7), ("low", 40, 7))
        )
        for member in members
    ]
    belief = believe(plan, Reports(bouts=tuple(said)).settled(), members, said[-1].on)
    told, supposed = axis(belief, HOLD, "middle"), axis_of(HOLD)
    low = replace(HOLD.dose, variation="low")
    assert told.at_target(HOLD.dose) == supposed.at_target(HOLD.dose)
    assert supposed.at_target(low) + 0.2 < told.at_target(low) < told.at_target(HOLD.dose)


def test_where_a_step_lies_is_the_same_whoever_stands_first() -> None:
    """One member takes to the easy variation far worse than the others."""
    plan = Plan(lines=(HOLD,), minutes=50, target=7.0, ceiling=9.0)

    def step(odd: str) -> float:
        said = tuple(
            bout(10 if member == odd else 5, 40, member=member, movement="It", variation="low")
            for member in ("ana", "ben", "cleo")
        )
        belief = believe(plan, Reports(bouts=said).settled(), ("ana", "ben", "cleo"), MONDAY)
        return axis(belief, HOLD, "middle").at_target(replace(HOLD.dose, variation="low"))

    assert step("ana") == pytest.approx(step("cleo"))


def test_nobody_can_do_less_than_nothing() -> None:
    assert axis_of(REPS).amount(-3.0) == 0


def test_before_any_answer_people_stand_where_the_plan_supposes_in_a_wide_range() -> None:
    on = axis_of(HOLD)
    reach = on.reach("ana")
    assert reach.middle == pytest.approx(on.at_target(HOLD.dose))
    assert reach == on.reach("ben")
    assert on.amount(reach.high) > 1.8 * on.amount(reach.low)


def test_half_is_half_of_the_way_between_the_ends() -> None:
    assert Reach(low=1, middle=2.5, high=4).half == 1.5


def test_an_axis_of_another_plan_is_refused() -> None:
    other = replace(HOLD, movement=replace(HOLD.movement, name="Another"))
    plan = Plan(lines=(HOLD,), minutes=50, target=7.0, ceiling=9.0)
    with pytest.raises(ValueError, match="Another"):
        axis(first_belief(plan, ("ana",)), other, "middle")
