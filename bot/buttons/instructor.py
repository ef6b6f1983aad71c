"""Buttons of instructors: plans, and alerts."""

import re
from dataclasses import dataclass
from typing import ClassVar, Self

from bot.buttons.shape import ID, Single


@dataclass(frozen=True, slots=True)
class ReplaceButton:
    """Let an uploaded plan count from now on or for one class only, or not at all."""

    kind: ClassVar[str] = "p"
    id: str
    yes: bool
    once: bool = False
    """Whether it is for the next class alone."""

    def write(self) -> str:
        """The data that goes into the button."""
        return f"{self.kind}:{self.id}:{'o' if self.once else 'y' if self.yes else 'n'}"

    @classmethod
    def read(cls, data: str) -> Self | None:
        """The button that wrote this; None if none did."""
        found = re.fullmatch(rf"p:({ID}):([yno])", data, re.ASCII)
        return cls(found[1], found[2] != "n", found[2] == "o") if found else None


@dataclass(frozen=True, slots=True)
class SeenButton(Single):
    """The instructor has seen an alert."""

    kind: ClassVar[str] = "k"


@dataclass(frozen=True, slots=True)
class ClearButton(Single):
    """The instructor clears a symptom, so that the movement may get harder again."""

    kind: ClassVar[str] = "c"
