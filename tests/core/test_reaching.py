"""What is lost on the way back up: the short way of adding it up against the long one."""

import numpy as np
import pytest

from core.doses import Numbers, doses
from core.limits import allowed
from core.movement import Measure
from core.plan import PlanLine
from core.reaching import CLASSES_AHEAD, NEXT_CLASS_COUNTS, lost_later, may_follow
from core.record import Record
from tests.simulation.histories import bout
from tests.simulation.plans import mixed, movement

TWO_LIFTS = movement(
    "Lift", Measure.LOAD, (("both arms", 0.7), ("one arm", 1.0)), (6, 12), 1, load_step=2
)
LINES = (
    *mixed().lines,
    PlanLine(movement=TWO_LIFTS, dose=mixed().lines[2].dose, target=7, ceiling=9),
)


def the_long_way(line: PlanLine, lost: Numbers) -> Numbers:
    """Every class, every dose, every dose that may follow."""
    may = may_follow(line)
    later = np.zeros_like(lost)
    for _ in range(CLASSES_AHEAD):
        cost = lost + NEXT_CLASS_COUNTS * later
        later = np.stack([cost[:, after].min(axis=1) for after in may], axis=1)
    return NEXT_CLASS_COUNTS * later


@pytest.mark.parametrize("line", LINES, ids=lambda line: line.movement.name)
def test_nothing_is_left_out_by_looking_only_at_the_hardest_that_may_follow(line: PlanLine) -> None:
    lost = np.random.default_rng(1).uniform(0, 1, (5, len(doses(line).amount)))
    assert lost_later(line, lost) == pytest.approx(the_long_way(line, lost))


@pytest.mark.parametrize("line", mixed().lines, ids=lambda line: line.movement.name)
def test_what_may_follow_is_what_the_limits_allow_after_it(line: PlanLine) -> None:
    offered, may = doses(line), may_follow(line)
    for at in range(0, len(may), 7):
        dose = offered.dose(at)
        done = bout(
            7, dose.amount, movement=line.movement.name, variation=dose.variation, load=dose.load
        )
        record = Record(
            last=done, told=done, estimate=None, heard=True, classes=1, pain=False, maximal=None,
            spent=False, days_away=None,
        )  # fmt: skip
        assert (may[at] == allowed(line, offered, record)).all()


def test_who_does_much_less_than_they_can_needs_many_classes_to_come_back() -> None:
    line = mixed().lines[0]
    offered = doses(line)
    wanted = (offered.rungs == 1) & (offered.amount == 60)
    later = lost_later(line, np.where(wanted, 0.0, 1.0)[None, :])[0]
    standard = later[offered.rungs == 1]
    assert standard[-1] == standard[-2] == 0  # 60 s, and 55 s a step below
    assert (np.diff(standard) <= 0).all()
    assert standard[0] > 2


def test_a_ladder_is_a_way_up_too() -> None:
    """From a long hold of an easier variation the harder one may be held as long at once."""
    line = mixed().lines[0]
    offered = doses(line)
    wanted = (offered.rungs == 1) & (offered.amount == 50)
    later = lost_later(line, np.where(wanted, 0.0, 1.0)[None, :])[0]
    of = {
        (int(rung), float(amount)): float(cost)
        for rung, amount, cost in zip(offered.rungs, offered.amount, later, strict=True)
    }
    assert of[0, 50] == 0 < of[1, 30]
