"""Buttons of instructors: plans, and alerts."""

from dataclasses import dataclass
from typing import ClassVar

from bot.buttons.shape import Choice, Single


@dataclass(frozen=True, slots=True)
class ReplaceButton(Choice):
    """Let an uploaded plan replace the one in force, or not."""

    kind: ClassVar[str] = "p"


@dataclass(frozen=True, slots=True)
class SeenButton(Single):
    """The instructor has seen an alert."""

    kind: ClassVar[str] = "k"


@dataclass(frozen=True, slots=True)
class ClearButton(Single):
    """The instructor clears a symptom, so that the movement may get harder again."""

    kind: ClassVar[str] = "c"
