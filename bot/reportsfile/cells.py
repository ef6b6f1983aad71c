"""What single cells of a reports file mean; anything else is named with what was expected."""

import re
from datetime import date

from bot.errors import Problem
from bot.reportsfile.sheet import Row
from core.effort import read_rating
from core.movement import Measure
from core.names import nearest, readable
from core.plan import Plan, PlanLine
from core.reports import SymptomKind

MOST_AMOUNT = 10_000.0
SYMPTOMS = {"pain": SymptomKind.PAIN, "warning": SymptomKind.WARNING}
"""What may stand in place of a rating: something that hurts still, so nothing gets harder."""

_NUMBER = re.compile(r"[0-9]{1,6}(?:[.,][0-9]{1,20})?")
_DAY = re.compile(r"20[0-9]{2}-[0-9]{2}-[0-9]{2}")


class Unreadable(Exception):
    """A cell that isn't what was expected."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(problem)
        self.problem = problem


def member_of(row: Row) -> str:
    """Who it is about."""
    if not readable(row.cells["member"]):
        raise Unreadable(row.problem("member", "a name of 1 to 64 visible characters"))
    return row.cells["member"]


def day_of(row: Row) -> date:
    """The day of the session."""
    if _DAY.fullmatch(row.cells["date"]):
        try:
            return date.fromisoformat(row.cells["date"])
        except ValueError:
            pass
    raise Unreadable(row.problem("date", "a day such as 2026-09-03"))


def line_of(row: Row, plan: Plan) -> PlanLine:
    """The line of the plan that the movement is."""
    wanted = row.cells["movement"].casefold()
    for line in plan.lines:
        if line.movement.name.casefold() == wanted:
            return line
    names = [line.movement.name for line in plan.lines]
    raise Unreadable(row.problem("movement", _one_of(row.cells["movement"], names)))


def variation_of(row: Row, line: PlanLine) -> str:
    """The variation as the ladder writes it; the plan's if the cell is empty."""
    wanted = row.cells["variation"]
    if not wanted:
        return line.dose.variation
    names = [each.name for each in line.movement.ladder]
    for name in names:
        if name.casefold() == wanted.casefold():
            return name
    raise Unreadable(row.problem("variation", _one_of(wanted, names)))


def _one_of(wanted: str, names: list[str]) -> str:
    close = nearest(wanted, names)
    return f'"{close}"' if close else "one of " + ", ".join(f'"{each}"' for each in names)


def load_of(row: Row, line: PlanLine) -> float | None:
    """Kilograms; None if the cell is empty."""
    load = number_in(row, "load")
    if load is None:
        return None
    if line.movement.measure is not Measure.LOAD:
        expected = f"nothing, since the measure is {line.movement.measure}"
        raise Unreadable(row.problem("load", expected))
    if load == 0:
        raise Unreadable(row.problem("load", "kilograms, above 0"))
    return load


def symptom_of(row: Row) -> SymptomKind | None:
    """What hurts, where that stands in place of a rating; None for anything else."""
    return SYMPTOMS.get(row.cells["effort"].casefold())


def effort_of(row: Row) -> float | None:
    """A rating; None if the cell is empty."""
    if not row.cells["effort"]:
        return None
    effort = read_rating(row.cells["effort"])
    if effort is None:
        raise Unreadable(row.problem("effort", "a rating from 0 to 10"))
    return effort


def number_in(row: Row, column: str) -> float | None:
    """A number from 0 up; None if the cell is empty."""
    text = row.cells[column]
    if not text:
        return None
    if _NUMBER.fullmatch(text):
        number = float(text.replace(",", "."))
        if number <= MOST_AMOUNT:
            return number
    raise Unreadable(row.problem(column, "a number from 0 up, without a unit"))
