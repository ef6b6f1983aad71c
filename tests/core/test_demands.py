"""Demands in a plan: off only where a group's own answers surely say so."""

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from core.advice import believe
from core.demands import DemandChange, demand_changes, with_demands
from core.movement import Variation
from core.plan import Plan
from demo_script.people import Nature
from tests.simulation.plans import SIDE_PLANK, line, mixed
from tests.simulation.rooms import FIRST, Room, make_room
from tests.simulation.rules_of_thumb import one_dose_for_all


def believed(room: Room, weeks: int) -> tuple[DemandChange, ...]:
    """What is found after so many weeks."""
    on = FIRST + timedelta(weeks=weeks)
    belief = believe(room.plan, room.reports.settled(), room.members, on)
    return demand_changes(belief, room.plan)


def test_nothing_is_off_before_anybody_has_said_anything() -> None:
    room = make_room(mixed(), 12, 1)
    assert believed(room, 0) == ()


def written(demand: float, variation: str, amount: float) -> Plan:
    """A plan of side planks alone, whose easier variation has this demand."""
    ladder = (Variation(name="knees bent", demand=demand), *SIDE_PLANK.ladder[1:])
    return replace(mixed(), lines=(line(replace(SIDE_PLANK, ladder=ladder), variation, amount),))


@pytest.mark.parametrize(("demand", "towards"), [(0.3, 1), (0.9, -1)])
def test_a_demand_that_is_far_off_is_found_and_moved_the_right_way(
    demand: float, towards: int
) -> None:
    """Truly it is 0.6. People alternate between two rungs, so that their answers compare them."""
    truth = written(0.6, "feet stacked", 30)
    people = make_room(truth, 24, 3, Nature(demand_error=0.0), answers=1.0, attends=1.0).people
    easy, standard = written(demand, "knees bent", 60), written(demand, "feet stacked", 30)
    room = Room(plan=standard, people=people)
    for _ in range(4):
        for room.plan in (easy, standard):
            room.train(one_dose_for_all, 1)
    (change,) = [each for each in believed(room, 8) if each.variation == "knees bent"]
    assert (change.believed - change.written) * towards > 0
    assert 0.4 < change.believed < 0.75


def test_a_ladder_stays_one_and_everything_else_as_it_was() -> None:
    plan = mixed()
    change = DemandChange(movement="Side plank", variation="knees bent", written=0.6, believed=0.7)
    changed = with_demands(plan, (change,))
    assert changed.lines[0].movement.demand("knees bent") == 0.7
    assert changed.lines[1:] == plan.lines[1:]
    too_much = replace(change, believed=1.2)
    assert with_demands(plan, (too_much,)) == plan


def test_what_is_found_never_turns_a_ladder_around() -> None:
    room = make_room(mixed(), 15, 5, Nature(demand_error=0.5), answers=1.0)
    room.train(one_dose_for_all, 6)
    for each in with_demands(room.plan, believed(room, 6)).lines:
        demands = [variation.demand for variation in each.movement.ladder]
        assert np.all(np.diff(demands) > 0)
