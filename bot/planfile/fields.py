"""Field errors told in the words of whoever wrote the file."""

from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from bot.errors import Problem
from bot.planfile.tables import Table
from core.names import nearest, tidy

SHOWN = 40  # characters of a wrong value; enough to find it again

SomeTable = TypeVar("SomeTable", bound=Table)


def read_table(kind: type[SomeTable], table: object) -> SomeTable | tuple[Problem, ...]:
    """The table, or every problem with its fields; places are field names."""
    try:
        return kind.model_validate(table)
    except ValidationError as refused:
        return tuple(_problem(kind, each) for each in refused.errors(include_url=False))


def read_fields(kind: type[SomeTable], table: object) -> tuple[dict[str, Any], tuple[Problem, ...]]:
    """The fields that are right by themselves, defaults included, and what is wrong with others."""
    read = read_table(kind, table)
    if not isinstance(read, tuple):
        return dict(read), ()
    if not isinstance(table, dict):
        return {}, read
    wrong = {each.where.partition(".")[0] for each in read}
    right = {
        name: table.get(name, field.default)
        for name, field in kind.model_fields.items()
        if name not in wrong
    }
    return right, read


def _problem(kind: type[BaseModel], error: ErrorDetails) -> Problem:
    steps = error["loc"]
    where = _path(steps)
    if error["type"] == "extra_forbidden":
        return Problem(where=where, wrong="unknown key", expected=_known(kind, steps))
    if error["type"] == "missing":
        return Problem(where=where, wrong="missing", expected=_description(kind, steps))
    return Problem(where=where, wrong=shown(error["input"]), expected=_description(kind, steps))


def _path(steps: tuple[int | str, ...]) -> str:
    """`plan.amount`; `variation 2, demand`: people count from 1."""
    if len(steps) > 1 and steps[0] == "variation":
        place = f"variation {int(steps[1]) + 1}"
        return ", ".join((place, *map(str, steps[2:])))
    return ".".join(each for each in steps if isinstance(each, str))


def _description(kind: type[BaseModel], steps: tuple[int | str, ...]) -> str:
    """What the innermost field that is described was expected to be."""
    described = "a table"
    table: type[BaseModel] | None = kind
    for step in steps:
        field = table.model_fields.get(str(step)) if table else None
        if field is not None:
            described = field.description or described
            table = _inner(field.annotation)
    return described


def _known(kind: type[BaseModel], steps: tuple[int | str, ...]) -> str:
    table = kind
    for step in steps[:-1]:
        field = table.model_fields.get(str(step))
        table = (_inner(field.annotation) if field else None) or table
    close = nearest(str(steps[-1]), table.model_fields)
    return close or "one of " + ", ".join(table.model_fields)


def _inner(annotation: Any) -> type[BaseModel] | None:
    """The table that a field holds, once or as a list; None for plain values."""
    for each in (annotation, *getattr(annotation, "__args__", ())):
        if isinstance(each, type) and issubclass(each, BaseModel):
            return each
    return None


def shown(value: object) -> str:
    """A wrong value, short and without anything that can't be shown."""
    text = f'"{value}"' if isinstance(value, str) else str(value)
    plain = tidy(text)
    return plain if len(plain) <= SHOWN else plain[: SHOWN - 1] + "…"
