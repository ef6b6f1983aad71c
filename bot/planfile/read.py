"""Reading a plan file: everything that is wrong with it at once, or a frozen value."""

import re
import tomllib
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Any

from bot.errors import BadInput, Problem
from bot.planfile.build import plan_file
from bot.planfile.checks import group_problems, movement_problems, repeated
from bot.planfile.fields import read_fields, read_table, shown
from bot.planfile.shelf import from_library
from bot.planfile.tables import GroupTable, MovementTable
from bot.planfile.value import PlanFile
from core.names import nearest, readable
from core.rules import CEILING, TARGET

MOST_BYTES = 256 * 1024
MOST_MOVEMENTS = 12
MOST_PROBLEMS = 50
"""Told at once; whoever has more has sent something else than a plan file."""

TOP = ("group", "movement")
_AT_LINE = re.compile(r"\(at (?:line (\d+), column \d+|end of document)\)$")


def read_plan_file(text: str | bytes, where: str) -> PlanFile:
    """The plan in this TOML text; BadInput listing all problems, each with its field.

    `where` names the file to whoever wrote it; bytes are taken as UTF-8.
    """
    tables = _toml(text, where)
    problems: list[Problem] = [*_strangers(tables)]
    right, wrong = read_fields(GroupTable, tables.get("group", {}))
    problems += _at("[group]", (*wrong, *group_problems(right)))
    efforts = right.get("target", TARGET), right.get("ceiling", CEILING)
    movements, wrong = read_movements(tables.get("movement"), *efforts)
    problems += wrong
    if problems:
        raise BadInput(tuple(_at(where, problems[:MOST_PROBLEMS])))
    return plan_file(GroupTable(**right), movements)


def _toml(text: str | bytes, where: str) -> dict[str, Any]:
    size = len(text if isinstance(text, bytes) else text.encode())
    if size > MOST_BYTES:
        expected = f"a plan file of at most {MOST_BYTES // 1024} KB"
        raise BadInput((Problem(where=where, wrong=f"{size // 1024} KB", expected=expected),))
    try:
        plain = text if isinstance(text, str) else text.decode()
        return tomllib.loads(plain.removeprefix("\ufeff"))
    except UnicodeDecodeError as refused:
        wrong = f"byte {refused.start + 1} is not UTF-8"
        raise BadInput((Problem(where=where, wrong=wrong, expected="UTF-8 text"),)) from None
    except RecursionError:
        wrong = "brackets nested too deep"
        raise BadInput((Problem(where=where, wrong=wrong, expected="TOML"),)) from None
    except ValueError as refused:  # also what the parser lets through from int()
        raise BadInput((_syntax(str(refused), where),)) from None


def _syntax(message: str, where: str) -> Problem:
    found = _AT_LINE.search(message)
    wrong = message[: found.start()].strip() if found else shown(message)
    line = f"line {found[1]}" if found and found[1] else "last line"
    return Problem(where=f"{where}, {line}", wrong=wrong, expected="TOML")


def _strangers(tables: dict[str, Any]) -> Iterator[Problem]:
    for key in tables:
        if key not in TOP:
            expected = nearest(key, TOP) or "[group] and [[movement]] only"
            yield Problem(where=shown(key).strip('"'), wrong="unknown key", expected=expected)


def read_movements(
    tables: object, target: float, ceiling: float
) -> tuple[list[MovementTable], tuple[Problem, ...]]:
    """The movements that are right, and what is wrong with the others."""
    if not isinstance(tables, list) or not 1 <= len(tables) <= MOST_MOVEMENTS:
        wrong = f"{len(tables)} tables" if isinstance(tables, list) else "none found"
        expected = f"1 to {MOST_MOVEMENTS} [[movement]] tables"
        return [], (Problem(where="movement", wrong=wrong, expected=expected),)
    right: list[MovementTable] = []
    problems: list[Problem] = []
    for number, table in enumerate(tables, start=1):
        read = _movement(table)
        if isinstance(read, MovementTable):
            right.append(read)
            read = tuple(movement_problems(read, target, ceiling))
        problems += _at(_place(number, table), read)
    for name in repeated(each.name for each in right):
        wrong = f'"{name}" twice'
        problems.append(Problem(where="movement", wrong=wrong, expected="each movement once"))
    return right, tuple(problems)


def _movement(table: object) -> MovementTable | tuple[Problem, ...]:
    """One movement with its library ladder filled in, or what is wrong with its fields."""
    if not isinstance(table, dict):
        return (Problem(where="", wrong=shown(table), expected="a [[movement]] table"),)
    filled, clashes = from_library(table)
    if any(each.where == "library" for each in clashes):
        return clashes  # what is missing now would have come from the ladder
    read = read_table(MovementTable, filled)
    return read if isinstance(read, MovementTable) and not clashes else (*clashes, *_told(read))


def _told(read: MovementTable | tuple[Problem, ...]) -> tuple[Problem, ...]:
    return read if isinstance(read, tuple) else ()


def _place(number: int, table: object) -> str:
    """`movement 2 "Side plank"`, or only the number if the name can't be shown."""
    name = (table.get("name") or table.get("library")) if isinstance(table, dict) else None
    if isinstance(name, str) and readable(name):
        return f'movement {number} "{name}"'
    return f"movement {number}"


def _at(place: str, problems: Iterable[Problem]) -> Iterator[Problem]:
    """The same problems, told from one step further out."""
    for each in problems:
        link = " " if place.startswith("[") else ", "
        yield replace(each, where=f"{place}{link}{each.where}" if each.where else place)
