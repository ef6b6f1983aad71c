"""Ladders of common movements that a plan can take by name."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any

from core.movement import Measure, Variation


class Mark(StrEnum):
    """How well the demands of a ladder are known; all of them are guesses about one person."""

    PUBLISHED = "published"
    """Measured, and read in the source or its abstract."""
    MEMORY = "from memory"
    """Order published, numbers remembered and not looked up again."""
    PRACTICE = "common practice"
    """Order as it is commonly taught, numbers our own guess."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ladder:
    """A movement as the library knows it, with amounts that suit most rooms."""

    name: str
    measure: Measure
    standard: str
    """Name of the variation with demand 1.0."""
    smallest: float
    largest: float
    step: float
    load_step: float | None
    """Kilograms; None where the measure isn't a load."""
    variations: tuple[Variation, ...]
    """Easiest first."""
    about: str
    """One line: what the movement is."""
    mark: Mark
    source: str
    """Where the demands come from."""
    caution: str | None
    """One line for the instructor; None where nothing special applies."""


def ladder(name: str) -> Ladder | None:
    """The ladder of that name, in small or capital letters; None if the library has none."""
    return _shelves().get(_key(name))


def names() -> tuple[str, ...]:
    """Names of all ladders, in alphabetical order."""
    return tuple(sorted((each.name for each in _shelves().values()), key=_key))


def read(text: str) -> tuple[Ladder, ...]:
    """The ladders of one library file (TOML)."""
    return tuple(_ladder(table) for table in tomllib.loads(text)["movement"])


@cache
def _shelves() -> Mapping[str, Ladder]:
    """Every ladder by its key. The files are part of the program, so they are read once."""
    shelves = sorted(each.name for each in files(__name__).iterdir() if each.name.endswith(".toml"))
    found = [
        each for shelf in shelves for each in read((files(__name__) / shelf).read_text("utf-8"))
    ]
    by_key = {_key(each.name): each for each in found}
    if len(by_key) < len(found):
        raise ValueError("the library has two ladders of the same name")
    return MappingProxyType(by_key)


def _key(name: str) -> str:
    return " ".join(name.casefold().split())


def _ladder(table: dict[str, Any]) -> Ladder:
    smallest, largest = table["range"]
    return Ladder(
        name=table["name"],
        measure=Measure(table["measure"]),
        standard=table["standard"],
        smallest=smallest,
        largest=largest,
        step=table["step"],
        load_step=table.get("load_step"),
        variations=tuple(
            Variation(name=each["name"], demand=each["demand"]) for each in table["variation"]
        ),
        about=table["about"],
        mark=Mark(table["mark"]),
        source=table["source"],
        caution=table.get("caution"),
    )
