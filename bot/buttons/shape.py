"""The shape of what buttons carry: `kind:id` or `kind:id:rest`, at most 64 bytes."""

import re
from dataclasses import dataclass
from typing import ClassVar, Self

ID = r"[a-z2-7]{12}"
"""An opaque id of a row."""
NUMBER = r"\d{1,4}(?:\.\d{1,2})?"


@dataclass(frozen=True, slots=True)
class Choice:
    """A yes or a no to something that waits for it."""

    kind: ClassVar[str]
    id: str
    yes: bool

    def write(self) -> str:
        """The data that goes into the button."""
        return f"{self.kind}:{self.id}:{'y' if self.yes else 'n'}"

    @classmethod
    def read(cls, data: str) -> Self | None:
        """The button that wrote this; None if none did."""
        found = re.fullmatch(rf"{cls.kind}:({ID}):([yn])", data, re.ASCII)
        return cls(found[1], found[2] == "y") if found else None


@dataclass(frozen=True, slots=True)
class Single:
    """One thing to do with the row that the id names."""

    kind: ClassVar[str]
    id: str

    def write(self) -> str:
        """The data that goes into the button."""
        return f"{self.kind}:{self.id}"

    @classmethod
    def read(cls, data: str) -> Self | None:
        """The button that wrote this; None if none did."""
        found = re.fullmatch(rf"{cls.kind}:({ID})", data, re.ASCII)
        return cls(found[1]) if found else None
