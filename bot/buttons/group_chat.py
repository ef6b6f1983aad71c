"""Buttons in and about the class's own group chat."""

import re
from dataclasses import dataclass
from typing import ClassVar, Self

from bot.buttons.shape import ID, Single


@dataclass(frozen=True, slots=True)
class TapButton:
    """A rating of the whole class in the group's chat: a whole number, or None for "not there"."""

    kind: ClassVar[str] = "g"
    id: str
    number: int | None

    def write(self) -> str:
        """The data that goes into the button."""
        return f"{self.kind}:{self.id}:{'absent' if self.number is None else self.number}"

    @classmethod
    def read(cls, data: str) -> Self | None:
        """The button that wrote this; None if none did."""
        found = re.fullmatch(rf"g:({ID}):(?:(10|\d)|absent)", data, re.ASCII)
        return cls(found[1], int(found[2]) if found[2] else None) if found else None


@dataclass(frozen=True, slots=True)
class LinkButton:
    """This offered chat is the chat of that group."""

    kind: ClassVar[str] = "l"
    offer: str
    group: str

    def write(self) -> str:
        """The data that goes into the button."""
        return f"{self.kind}:{self.offer}:{self.group}"

    @classmethod
    def read(cls, data: str) -> Self | None:
        """The button that wrote this; None if none did."""
        found = re.fullmatch(rf"l:({ID}):({ID})", data, re.ASCII)
        return cls(found[1], found[2]) if found else None


@dataclass(frozen=True, slots=True)
class UnlinkButton(Single):
    """That group has no chat any more."""

    kind: ClassVar[str] = "u"
