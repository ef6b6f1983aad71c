"""What the demands in a plan should be, by what its group has answered."""

from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from core.capacity import Belief
from core.capacity.frame import Place
from core.movement import Movement
from core.plan import Plan, PlanLine
from core.rules import DEMAND_OFF

NINE_OF_TEN = 1.2816
"""Standard deviations below which nine tenths of a normal distribution lie."""
DECIMALS = 2
"""Of a demand: more would say more than is known."""
ROOM_BETWEEN = 0.02
"""By how much a rung at least differs from the next, so that a ladder stays one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DemandChange:
    """One variation whose demand is off."""

    movement: str
    variation: str
    written: float
    """Share of the standard variation's, as the plan has it."""
    believed: float
    """The same by the group's own answers."""


def demand_changes(belief: Belief, plan: Plan) -> tuple[DemandChange, ...]:
    """Demands that are off by enough to matter, and surely so; in the order of the plan.

    The belief carries a log correction for every variation but the standard one; what it says of a
    group is what its members' answers on several rungs have in common.
    """
    found = []
    for line in plan.lines:
        place = belief.frame.place(line.movement.name)
        if place is not None:
            found += [
                each
                for rung in range(len(place.shifts))
                if (each := _change(belief, place, rung)) is not None
            ]
    return tuple(found)


def with_demands(plan: Plan, changes: tuple[DemandChange, ...]) -> Plan:
    """The plan with these demands; each ladder stays easiest first."""
    return replace(plan, lines=tuple(_with(line, changes) for line in plan.lines))


def _change(belief: Belief, place: Place, rung: int) -> DemandChange | None:
    at = place.corrections[rung]
    if at < 0:  # the standard variation is what the others are measured by
        return None
    off = float(belief.group_mean[at])
    doubt = float(np.sqrt(belief.group_cov[at, at]))
    surely = max(abs(off) - NINE_OF_TEN * doubt, 0.0)
    variation = place.movement.ladder[rung]
    believed = round(variation.demand * float(np.exp(off)), DECIMALS)
    believed = _between(place.movement, rung, believed)
    change = abs(float(np.log(believed / variation.demand)))
    if surely < float(np.log1p(DEMAND_OFF)) or change < float(np.log1p(DEMAND_OFF)):
        return None
    return DemandChange(
        movement=place.movement.name,
        variation=variation.name,
        written=variation.demand,
        believed=believed,
    )


def _between(movement: Movement, rung: int, demand: float) -> float:
    """Within the neighbouring rungs: which variation is harder isn't for answers to say."""
    ladder = movement.ladder
    if rung > 0:
        demand = max(demand, ladder[rung - 1].demand + ROOM_BETWEEN)
    if rung + 1 < len(ladder):
        demand = min(demand, ladder[rung + 1].demand - ROOM_BETWEEN)
    return round(demand, DECIMALS)


def _with(line: PlanLine, changes: tuple[DemandChange, ...]) -> PlanLine:
    to = {each.variation: each.believed for each in changes if each.movement == line.movement.name}
    ladder = tuple(
        replace(each, demand=to.get(each.name, each.demand)) for each in line.movement.ladder
    )
    if any(harder.demand < easier.demand for easier, harder in pairwise(ladder)):
        return line
    return replace(line, movement=replace(line.movement, ladder=ladder))
