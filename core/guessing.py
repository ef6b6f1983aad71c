"""What a newcomer is offered to say how far they could just go in a movement."""

from core.movement import Dose, Measure, Movement
from core.plan import PlanLine

SHARES_OF_LOAD = (0.4, 0.6, 0.8, 1.0, 1.3, 1.6, 2.0, 2.5)
"""Of the planned load. [choice]: from far below to far above, about a quarter apart."""
SPAN = 2.0
"""How far beyond the largest useful amount the offer goes: most people could do more than one
would plan. [choice]"""
MOST = 8


def offers(line: PlanLine) -> tuple[Dose, ...]:
    """At most eight doses of the standard variation, easiest first, each about a third harder.

    For loads the repetitions are the planned ones and the load varies.
    """
    movement = line.movement
    if movement.measure is Measure.LOAD:
        step, planned = movement.load_step or 1.0, line.dose.load or 1.0
        loads = {max(step, round(planned * share / step) * step) for share in SHARES_OF_LOAD}
        return tuple(_dose(movement, line.dose.amount, load) for load in sorted(loads))
    low, high = movement.smallest / SPAN, movement.largest * SPAN
    ratio = (high / low) ** (1 / (MOST - 1))
    rounded = {_round(low * ratio**place, movement.step) for place in range(MOST)}
    return tuple(_dose(movement, amount, None) for amount in sorted(rounded))


def _dose(movement: Movement, amount: float, load: float | None) -> Dose:
    return Dose(variation=movement.standard, amount=amount, load=load)


def _round(amount: float, step: float) -> float:
    return max(step, round(amount / step) * step)
