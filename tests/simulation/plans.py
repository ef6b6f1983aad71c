"""The plans that simulated rooms train by: all four measures, ladders of three and four."""

from core.movement import Dose, Measure, Movement, Variation
from core.plan import Plan, PlanLine

Ladder = tuple[tuple[str, float], ...]


def movement(
    name: str,
    measure: Measure,
    ladder: Ladder,
    useful: tuple[float, float],
    step: float,
    load_step: float | None = None,
) -> Movement:
    """A movement whose standard is the variation with demand 1."""
    return Movement(
        name=name,
        measure=measure,
        ladder=tuple(Variation(name=each, demand=demand) for each, demand in ladder),
        standard=next(each for each, demand in ladder if demand == 1.0),
        smallest=useful[0],
        largest=useful[1],
        step=step,
        load_step=load_step,
    )


def line(of: Movement, variation: str, amount: float, load: float | None = None) -> PlanLine:
    """A line of the plan with the usual target and ceiling."""
    dose = Dose(variation=variation, amount=amount, load=load, sets=2)
    return PlanLine(movement=of, dose=dose, target=7.0, ceiling=9.0)


SIDE_PLANK = movement(
    "Side plank",
    Measure.HOLD,
    (("knees bent", 0.6), ("feet stacked", 1.0), ("top leg raised", 1.3)),
    (10, 60),
    5,
)
WALL_SIT = movement(
    "Wall sit", Measure.HOLD, (("high", 0.7), ("thighs level", 1.0), ("one leg", 1.6)), (10, 90), 5
)
PUSH_UP = movement(
    "Push-up",
    Measure.REPS,
    (("hands on a bench", 0.64), ("knees", 0.81), ("floor", 1.0), ("feet raised", 1.12)),
    (3, 20),
    1,
)
SQUAT = movement(
    "Squat", Measure.REPS, (("from a chair", 0.75), ("half", 0.88), ("full", 1.0)), (4, 25), 1
)
ROW = movement("Row", Measure.LOAD, (("one arm", 1.0),), (8, 12), 1, load_step=1)
STEP_UP = movement(
    "Step-up",
    Measure.MINUTES,
    (("10 cm", 0.7), ("20 cm", 0.85), ("30 cm", 1.0), ("40 cm", 1.2)),
    (3, 10),
    1,
)


def mixed(movements: int = 6) -> Plan:
    """A class of up to six movements."""
    lines = (
        line(SIDE_PLANK, "feet stacked", 30),
        line(PUSH_UP, "knees", 10),
        line(ROW, "one arm", 10, 12),
        line(WALL_SIT, "thighs level", 45),
        line(SQUAT, "half", 14),
        line(STEP_UP, "20 cm", 5),
    )
    return Plan(lines=lines[:movements], minutes=50, target=7.0, ceiling=9.0)
