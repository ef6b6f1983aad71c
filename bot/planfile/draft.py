"""A plan file in progress: what an instructor has said of it so far, step by step."""

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import datetime, time, timedelta
from typing import Any

from bot.errors import Problem
from bot.planfile.build import plan_line
from bot.planfile.checks import group_problems
from bot.planfile.fields import read_fields
from bot.planfile.read import read_movements, read_plan_file
from bot.planfile.tables import (
    DEFAULT_DIGEST_BEFORE,
    DEFAULT_PROMPT_AFTER,
    GroupTable,
)
from bot.planfile.value import PlanFile
from bot.planfile.write import movement_tables, number_value, text_value, write_plan_file
from bot.timetable import local
from bot.timetable.rule import DAYS
from core.plan import Plan, PlanLine
from core.rules import CEILING, TARGET


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """A group as far as it is known. What is None or empty hasn't been said yet."""

    name: str | None = None
    days: tuple[int, ...] = ()
    """0 for Monday, in the order of the week."""
    clock: time | None = None
    """When the class starts, on the wall there."""
    minutes: int | None = None
    timezone: str | None = None
    """IANA name."""
    target: float = TARGET
    ceiling: float = CEILING
    lines: tuple[PlanLine, ...] = ()

    @property
    def plan(self) -> Plan:
        """What the class would consist of by now."""
        return Plan(
            lines=self.lines,
            minutes=self.minutes or 0,
            target=self.target,
            ceiling=self.ceiling,
        )

    @property
    def is_whole(self) -> bool:
        """Whether everything that a group needs has been said."""
        named = None not in (self.name, self.clock, self.minutes, self.timezone)
        return named and bool(self.days) and bool(self.lines)


def is_right(**fields: object) -> bool:
    """Whether a plan file may say this in these fields of `[group]`."""
    right, _ = read_fields(GroupTable, fields)
    return fields.keys() <= right.keys() and not any(group_problems(right))


def problems_with(line: PlanLine, draft: Draft) -> tuple[Problem, ...]:
    """What a plan file may not say of one movement; places are field names."""
    text = "\n".join(movement_tables(replace(draft.plan, lines=(line,))))
    tables = tomllib.loads(text)["movement"]
    _, wrong = read_movements(tables, draft.target, draft.ceiling)
    return wrong


def write_draft(draft: Draft) -> str:
    """What is kept of a draft; `read_draft` reads it back."""
    return "\n".join((*_group(draft), *movement_tables(draft.plan), ""))


def _group(draft: Draft) -> Iterator[str]:
    yield "[group]"
    if draft.name is not None:
        yield f"name = {text_value(draft.name)}"
    yield f"days = {list(draft.days)}"
    if draft.clock is not None:
        yield f"clock = {draft.clock.isoformat()}"
    if draft.minutes is not None:
        yield f"minutes = {draft.minutes}"
    if draft.timezone is not None:
        yield f"timezone = {text_value(draft.timezone)}"
    yield f"target = {number_value(draft.target)}"
    yield f"ceiling = {number_value(draft.ceiling)}"


def read_draft(text: str) -> Draft:
    """The draft that was kept; its movements go through the same checks as those of a file."""
    tables = tomllib.loads(text)
    group: Mapping[str, Any] = tables["group"]
    target, ceiling = float(group["target"]), float(group["ceiling"])
    movements, _ = read_movements(tables.get("movement"), target, ceiling)
    return Draft(
        name=group.get("name"),
        days=tuple(group["days"]),
        clock=group.get("clock"),
        minutes=group.get("minutes"),
        timezone=group.get("timezone"),
        target=target,
        ceiling=ceiling,
        lines=tuple(plan_line(each, target, ceiling) for each in movements),
    )


def draft_of(plan_file: PlanFile) -> Draft:
    """A draft to change a plan with; the timetable isn't in it."""
    plan = plan_file.plan
    return Draft(name=plan_file.name, target=plan.target, ceiling=plan.ceiling, lines=plan.lines)


def changed_plan(plan_file: PlanFile, draft: Draft) -> PlanFile:
    """The plan file with what the draft has made of its plan."""
    plan = replace(plan_file.plan, lines=draft.lines, target=draft.target, ceiling=draft.ceiling)
    return replace(plan_file, plan=plan)


def finished(draft: Draft, now: datetime) -> PlanFile | None:
    """The plan file of a draft that is whole, its first class the next one; None before that."""
    clock, minutes, zone = draft.clock, draft.minutes, draft.timezone
    if draft.name is None or clock is None or minutes is None or zone is None:
        return None
    if not draft.days or not draft.lines:
        return None
    made = PlanFile(
        name=draft.name,
        timezone=zone,
        starts=_first(draft.days, clock, local(now, zone).replace(tzinfo=None)),
        rrule=f"FREQ=WEEKLY;BYDAY={','.join(DAYS[day] for day in draft.days)}",
        minutes=minutes,
        prompt_after=DEFAULT_PROMPT_AFTER,
        digest_before=DEFAULT_DIGEST_BEFORE,
        plan=draft.plan,
    )
    return read_plan_file(write_plan_file(made), "draft")


def _first(days: tuple[int, ...], clock: time, wall: datetime) -> datetime:
    """The first class after this moment on the wall."""
    coming = (datetime.combine(wall.date() + timedelta(days=ahead), clock) for ahead in range(8))
    return next(each for each in coming if each > wall and each.weekday() in days)
