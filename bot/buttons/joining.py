"""Buttons of newcomers: agree to the terms, and say where they stand."""

import re
from dataclasses import dataclass
from typing import ClassVar, Self

from bot.buttons.shape import ID, Choice


@dataclass(frozen=True, slots=True)
class JoinButton(Choice):
    """Agree to what is stored and join, or not."""

    kind: ClassVar[str] = "j"


@dataclass(frozen=True, slots=True)
class EstimateButton:
    """What a member could just do of one movement, or the question about it."""

    kind: ClassVar[str] = "n"
    group: str
    place: int
    """Place of the movement in the plan."""
    offer: int | None = None
    """Which of the offered doses; None asks."""

    def write(self) -> str:
        """The data that goes into the button."""
        offer = "-" if self.offer is None else self.offer
        return f"{self.kind}:{self.group}:{self.place}:{offer}"

    @classmethod
    def read(cls, data: str) -> Self | None:
        """The button that wrote this; None if none did."""
        found = re.fullmatch(rf"n:({ID}):(\d{{1,2}}):(-|\d)", data, re.ASCII)
        if found is None:
            return None
        return cls(found[1], int(found[2]), None if found[3] == "-" else int(found[3]))
