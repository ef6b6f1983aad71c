"""Writing a plan file: the text that reads back to the same plan."""

import json
from collections.abc import Iterator

from bot.planfile.value import PlanFile
from core.movement import Dose, Movement
from core.plan import Plan, PlanLine


def write_plan_file(plan_file: PlanFile) -> str:
    """TOML that `read_plan_file` reads back to the same value."""
    return "\n".join((*_group(plan_file), *movement_tables(plan_file.plan), ""))


def _group(plan_file: PlanFile) -> Iterator[str]:
    yield "[group]"
    yield f"name = {text_value(plan_file.name)}"
    yield f"timezone = {text_value(plan_file.timezone)}"
    yield f"starts = {plan_file.starts.isoformat()}"
    yield f"rrule = {text_value(plan_file.rrule)}"
    yield f"minutes = {plan_file.minutes}"
    yield f"target = {number_value(plan_file.plan.target)}"
    yield f"ceiling = {number_value(plan_file.plan.ceiling)}"
    yield f"prompt_after = {plan_file.prompt_after}"
    yield f"digest_before = {plan_file.digest_before}"


def movement_tables(plan: Plan) -> Iterator[str]:
    """The lines of all `[[movement]]` tables."""
    for line in plan.lines:
        yield from ("", "[[movement]]", *_movement(line, plan))
        for variation in line.movement.ladder:
            yield "[[movement.variation]]"
            yield f"name = {text_value(variation.name)}"
            yield f"demand = {number_value(variation.demand)}"


def _movement(line: PlanLine, plan: Plan) -> Iterator[str]:
    movement = line.movement
    yield f"name = {text_value(movement.name)}"
    yield f"measure = {text_value(movement.measure)}"
    yield f"standard = {text_value(movement.standard)}"
    yield f"plan = {_dose(line.dose)}"
    yield from _amounts(movement)
    if (line.target, line.ceiling) != (plan.target, plan.ceiling):
        yield f"target = {number_value(line.target)}"
        yield f"ceiling = {number_value(line.ceiling)}"


def _amounts(movement: Movement) -> Iterator[str]:
    yield f"range = [{number_value(movement.smallest)}, {number_value(movement.largest)}]"
    yield f"step = {number_value(movement.step)}"
    if movement.load_step is not None:
        yield f"load_step = {number_value(movement.load_step)}"


def _dose(dose: Dose) -> str:
    load = "" if dose.load is None else f", load = {number_value(dose.load)}"
    amount = f"amount = {number_value(dose.amount)}"
    return f"{{ variation = {text_value(dose.variation)}, {amount}{load}, sets = {dose.sets} }}"


def text_value(text: str) -> str:
    """A TOML string: JSON's escapes are TOML's too, for what may be in a name."""
    return json.dumps(text, ensure_ascii=False)


def number_value(number: float) -> str:
    """A TOML number, whole where it can be."""
    return str(int(number)) if number == int(number) else repr(float(number))
