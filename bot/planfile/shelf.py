"""Ladders from the library, filled into a movement that names one."""

from collections.abc import Iterator, Mapping
from typing import Any

from bot.errors import Problem
from core.library import Ladder, ladder, names
from core.names import nearest

FIXED = ("measure", "standard")
"""What belongs to a ladder: it may be repeated beside it, but not be something else."""


def from_library(table: Mapping[str, Any]) -> tuple[dict[str, Any], tuple[Problem, ...]]:
    """The movement with everything that its library ladder knows and it doesn't say itself.

    A movement without `library` comes back as it is. Places of problems are field names.
    """
    filled = dict(table)
    wanted = filled.pop("library", None)
    if wanted is None:
        return filled, ()
    found = ladder(wanted) if isinstance(wanted, str) else None
    if found is None:
        return filled, (_unknown(wanted),)
    known = _table(found)
    return {**known, **filled}, tuple(_clashes(known, filled))


def _clashes(known: dict[str, Any], filled: dict[str, Any]) -> Iterator[Problem]:
    for field in FIXED:
        if filled.get(field, known[field]) != known[field]:
            expected = f'"{known[field]}" as in the library, or no {field} here'
            yield Problem(where=field, wrong="not that of the ladder", expected=expected)
    if "variation" in filled:
        expected = "either a library ladder or variations of its own"
        yield Problem(where="library", wrong="variations stand beside it", expected=expected)


def _table(found: Ladder) -> dict[str, Any]:
    table: dict[str, Any] = {
        "name": found.name,
        "measure": found.measure.value,
        "standard": found.standard,
        "range": [found.smallest, found.largest],
        "step": found.step,
        "variation": [{"name": each.name, "demand": each.demand} for each in found.variations],
    }
    if found.load_step is not None:
        table["load_step"] = found.load_step
    return table


def _unknown(wanted: object) -> Problem:
    if not isinstance(wanted, str):
        return Problem(where="library", wrong="not a name", expected="a name in quotes")
    close = nearest(wanted, names())
    expected = f'"{close}"' if close else "one of " + ", ".join(names())
    return Problem(where="library", wrong="no ladder of this name", expected=expected)


def ladders_like(text: str) -> tuple[Ladder, ...]:
    """The ladders that somebody may mean by a part of a name, best first.

    By name, by a word of it, by a variation, by a word of what it is; else whatever is spelt alike.
    """
    wanted = " ".join(text.casefold().split())
    if not wanted:
        return ()
    known = [each for name in names() if (each := ladder(name)) is not None]
    found = [each for each in known if each.name.casefold().startswith(wanted)]
    found += [each for each in known if wanted in each.name.casefold()]
    found += [each for each in known if _any_word(each, wanted)]
    if not found:
        close = nearest(text, names())
        found = [each for each in known if each.name == close]
    return tuple({each.name: each for each in found}.values())


def _any_word(known: Ladder, wanted: str) -> bool:
    texts = (known.about, *(each.name for each in known.variations))
    return any(f" {wanted}" in f" {text.casefold()}" for text in texts)
