"""Buttons of instructors about alerts, thresholds, and what follows from a class."""

import re
from dataclasses import dataclass
from enum import StrEnum
from typing import ClassVar, Self

from bot.buttons.shape import ID
from core.thresholds import CHOICES, Threshold


class Dealing(StrEnum):
    """What can be done about an alert besides marking it as seen."""

    ASK = "ask"
    """Be asked for a note."""
    PLAIN = "plain"
    """Clear it without one."""
    LEAVE = "leave"
    """Leave it as it is."""
    UNDO = "undo"
    """It isn't cleared after all."""


@dataclass(frozen=True, slots=True)
class DealButton:
    """Deal with an alert."""

    kind: ClassVar[str] = "x"
    id: str
    what: Dealing

    def write(self) -> str:
        """The data that goes into the button."""
        return f"{self.kind}:{self.id}:{self.what}"

    @classmethod
    def read(cls, data: str) -> Self | None:
        """The button that wrote this; None if none did."""
        found = re.fullmatch(rf"x:({ID}):({'|'.join(Dealing)})", data, re.ASCII)
        return cls(found[1], Dealing(found[2])) if found else None


@dataclass(frozen=True, slots=True)
class AlertsButton:
    """Look through a group's alerts, one at a time."""

    kind: ClassVar[str] = "A"
    group: str
    after: str | None = None
    """The alert that is on screen; None begins with the first."""

    def write(self) -> str:
        """The data that goes into the button."""
        return f"{self.kind}:{self.group}:{self.after or '-'}"

    @classmethod
    def read(cls, data: str) -> Self | None:
        """The button that wrote this; None if none did."""
        found = re.fullmatch(rf"A:({ID}):({ID}|-)", data, re.ASCII)
        return cls(found[1], None if found[2] == "-" else found[2]) if found else None


@dataclass(frozen=True, slots=True)
class ThresholdButton:
    """Look at when a group's instructors want to be told, at one number of it, or choose it."""

    kind: ClassVar[str] = "B"
    group: str
    threshold: Threshold | None = None
    value: int | None = None

    def write(self) -> str:
        """The data that goes into the button."""
        parts = (self.kind, self.group, self.threshold, self.value)
        return ":".join(str(part) for part in parts if part is not None)

    @classmethod
    def read(cls, data: str) -> Self | None:
        """The button that wrote this; None if none did, or there is no such number."""
        pattern = rf"B:({ID})(?::({'|'.join(Threshold)})(?::(0|[1-9]\d{{0,2}}))?)?"
        found = re.fullmatch(pattern, data, re.ASCII)
        if found is None:
            return None
        threshold = None if found[2] is None else Threshold(found[2])
        value = None if found[3] is None else int(found[3])
        if threshold is not None and value is not None and value not in CHOICES[threshold]:
            return None
        return cls(found[1], threshold, value)


class AboutClass(StrEnum):
    """What can be done about one class from the instructor's side."""

    PRINT = "print"
    """Get the digest as one page to take along."""
    APPLY = "apply"
    """Use the demands that the summary offers from now on."""
    UNDO = "undo"
    """Go back to the plan before."""


@dataclass(frozen=True, slots=True)
class ClassButton:
    """Something about one class."""

    kind: ClassVar[str] = "y"
    session: str
    what: AboutClass

    def write(self) -> str:
        """The data that goes into the button."""
        return f"{self.kind}:{self.session}:{self.what}"

    @classmethod
    def read(cls, data: str) -> Self | None:
        """The button that wrote this; None if none did."""
        found = re.fullmatch(rf"y:({ID}):({'|'.join(AboutClass)})", data, re.ASCII)
        return cls(found[1], AboutClass(found[2])) if found else None
