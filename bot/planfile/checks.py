"""What a plan file's fields must be to each other, once each is right by itself."""

from collections.abc import Iterable, Iterator, Mapping
from datetime import datetime
from itertools import pairwise
from typing import Any

from bot.errors import Problem
from bot.planfile.tables import MovementTable
from bot.timetable import BadRule, day_fits, read_rule
from core.names import nearest

MOST_STEPS = 200
"""Amounts that a range may hold: more choices than anyone can tell apart."""


def group_problems(fields: Mapping[str, Any]) -> Iterator[Problem]:
    """What doesn't fit together in `[group]`, of those fields that are right by themselves."""
    if {"target", "ceiling"} <= fields.keys():
        yield from _efforts(fields["target"], fields["ceiling"])
    if "rrule" in fields:
        yield from _timetable(fields["rrule"], fields.get("starts"))


def _timetable(text: str, starts: datetime | None) -> Iterator[Problem]:
    try:
        rule = read_rule(text)
    except BadRule as refused:
        yield Problem(where="rrule", wrong=_quoted(refused.part), expected=refused.expected)
        return
    if starts is not None and not day_fits(starts, rule):
        day = f"{starts:%A %d %B %Y}"
        yield Problem(where="starts", wrong=day, expected="a day that the rrule has too")


def movement_problems(table: MovementTable, target: float, ceiling: float) -> Iterator[Problem]:
    """What doesn't fit together in one `[[movement]]`; places are field names.

    `target` and `ceiling` are the group's, for a movement that has none of its own.
    """
    own_target = target if table.target is None else table.target
    own_ceiling = ceiling if table.ceiling is None else table.ceiling
    if table.target is not None or table.ceiling is not None:
        yield from _efforts(own_target, own_ceiling)
    yield from _ladder(table)
    yield from _amounts(table)
    yield from _loads(table)


def repeated(names: Iterable[str]) -> Iterator[str]:
    """Names that have come before, in small or capital letters."""
    seen: set[str] = set()
    for name in names:
        if name.casefold() in seen:
            yield name
        seen.add(name.casefold())


def _efforts(target: float, ceiling: float) -> Iterator[Problem]:
    if target >= ceiling:
        wrong = f"target {target:g} with ceiling {ceiling:g}"
        yield Problem(where="target", wrong=wrong, expected="a target below the ceiling")


def _ladder(table: MovementTable) -> Iterator[Problem]:
    names = [each.name for each in table.variation]
    for name in repeated(names):
        yield Problem(
            where="variation", wrong=f"{_quoted(name)} twice", expected="each variation once"
        )
    for where, name in (("standard", table.standard), ("plan.variation", table.plan.variation)):
        if name not in names:
            yield Problem(where=where, wrong=_quoted(name), expected=_one_of(name, names))
    for lower, upper in pairwise(table.variation):
        if lower.demand >= upper.demand:
            wrong = f"{_quoted(upper.name)} after {_quoted(lower.name)}"
            expected = "variations in order of demand, the easiest first"
            yield Problem(where="variation", wrong=wrong, expected=expected)
    demands = {each.name: each.demand for each in table.variation}
    standard = demands.get(table.standard, 1.0)
    if standard != 1.0:
        wrong = f"{standard:g} for {_quoted(table.standard)}"
        yield Problem(where="demand", wrong=wrong, expected="1.0 for the standard variation")


def _amounts(table: MovementTable) -> Iterator[Problem]:
    smallest, largest = table.range
    if smallest > largest:
        yield Problem(where="range", wrong=str(table.range), expected="the smaller number first")
    elif not smallest <= table.plan.amount <= largest:
        expected = f"an amount in the range, {smallest:g} to {largest:g}"
        yield Problem(where="plan.amount", wrong=f"{table.plan.amount:g}", expected=expected)
    if largest - smallest > MOST_STEPS * table.step:
        expected = f"a step that divides the range in at most {MOST_STEPS}"
        yield Problem(where="step", wrong=f"{table.step:g}", expected=expected)
    if table.measure in ("reps", "load"):
        counts = (("plan.amount", table.plan.amount), ("range", smallest), ("range", largest))
        for where, number in (*counts, ("step", table.step)):
            if number != int(number):
                yield Problem(where=where, wrong=f"{number:g}", expected="whole repetitions")


def _loads(table: MovementTable) -> Iterator[Problem]:
    fields = (("plan.load", table.plan.load), ("load_step", table.load_step))
    for where, value in fields:
        if table.measure == "load" and value is None:
            expected = 'kilograms, since the measure is "load"'
            yield Problem(where=where, wrong="missing", expected=expected)
        elif table.measure != "load" and value is not None:
            expected = f'none, since the measure is "{table.measure}"'
            yield Problem(where=where, wrong=f"{value:g}", expected=expected)


def _one_of(name: str, names: list[str]) -> str:
    close = nearest(name, names)
    return _quoted(close) if close else "one of " + ", ".join(map(_quoted, names))


def _quoted(text: str) -> str:
    return f'"{text}"'
