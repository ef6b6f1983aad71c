"""Writing a plan file: the text that reads back to the same plan."""

import json
from collections.abc import Iterator

from bot.planfile.value import PlanFile
from core.movement import Dose, Movement
from core.plan import Plan, PlanLine


def write_plan_file(plan_file: PlanFile) -> str:
    """TOML that `read_plan_file` reads back to the same value."""
    return "\n".join((*_group(plan_file), *_movements(plan_file.plan), ""))


def _group(plan_file: PlanFile) -> Iterator[str]:
    yield "[group]"
    yield f"name = {_text(plan_file.name)}"
    yield f"timezone = {_text(plan_file.timezone)}"
    yield f"starts = {plan_file.starts.isoformat()}"
    yield f"rrule = {_text(plan_file.rrule)}"
    yield f"minutes = {plan_file.minutes}"
    yield f"target = {_number(plan_file.plan.target)}"
    yield f"ceiling = {_number(plan_file.plan.ceiling)}"
    yield f"prompt_after = {plan_file.prompt_after}"
    yield f"digest_before = {plan_file.digest_before}"


def _movements(plan: Plan) -> Iterator[str]:
    for line in plan.lines:
        yield from ("", "[[movement]]", *_movement(line, plan))
        for variation in line.movement.ladder:
            yield "[[movement.variation]]"
            yield f"name = {_text(variation.name)}"
            yield f"demand = {_number(variation.demand)}"


def _movement(line: PlanLine, plan: Plan) -> Iterator[str]:
    movement = line.movement
    yield f"name = {_text(movement.name)}"
    yield f"measure = {_text(movement.measure)}"
    yield f"standard = {_text(movement.standard)}"
    yield f"plan = {_dose(line.dose)}"
    yield from _amounts(movement)
    if (line.target, line.ceiling) != (plan.target, plan.ceiling):
        yield f"target = {_number(line.target)}"
        yield f"ceiling = {_number(line.ceiling)}"


def _amounts(movement: Movement) -> Iterator[str]:
    yield f"range = [{_number(movement.smallest)}, {_number(movement.largest)}]"
    yield f"step = {_number(movement.step)}"
    if movement.load_step is not None:
        yield f"load_step = {_number(movement.load_step)}"


def _dose(dose: Dose) -> str:
    load = "" if dose.load is None else f", load = {_number(dose.load)}"
    amount = _number(dose.amount)
    return f"{{ variation = {_text(dose.variation)}, amount = {amount}{load}, sets = {dose.sets} }}"


def _text(text: str) -> str:
    """A TOML string: JSON's escapes are TOML's too, for what may be in a name."""
    return json.dumps(text, ensure_ascii=False)


def _number(number: float) -> str:
    return str(int(number)) if number == int(number) else repr(float(number))
