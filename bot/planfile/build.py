"""From a plan file's checked tables to frozen values."""

from bot.planfile.tables import GroupTable, MovementTable, VariationTable
from bot.planfile.value import PlanFile
from core.movement import Dose, Measure, Movement, Variation
from core.plan import Plan, PlanLine


def plan_file(group: GroupTable, movements: list[MovementTable]) -> PlanFile:
    """The frozen value of tables that are right."""
    return PlanFile(
        name=group.name,
        timezone=group.timezone,
        starts=group.starts,
        rrule=group.rrule,
        minutes=group.minutes,
        prompt_after=group.prompt_after,
        digest_before=group.digest_before,
        plan=Plan(
            lines=tuple(plan_line(each, group.target, group.ceiling) for each in movements),
            minutes=group.minutes,
            target=group.target,
            ceiling=group.ceiling,
        ),
    )


def plan_line(table: MovementTable, target: float, ceiling: float) -> PlanLine:
    """One movement; `target` and `ceiling` are the group's, where it has none of its own."""
    dose = table.plan
    return PlanLine(
        movement=Movement(
            name=table.name,
            measure=Measure(table.measure),
            ladder=tuple(map(_variation, table.variation)),
            standard=table.standard,
            smallest=table.range[0],
            largest=table.range[1],
            step=table.step,
            load_step=table.load_step,
        ),
        dose=Dose(variation=dose.variation, amount=dose.amount, load=dose.load, sets=dose.sets),
        target=target if table.target is None else table.target,
        ceiling=ceiling if table.ceiling is None else table.ceiling,
    )


def _variation(table: VariationTable) -> Variation:
    return Variation(name=table.name, demand=table.demand)
