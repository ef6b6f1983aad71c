"""Buttons of the timetable: the coming classes, one of them, and calendar files."""

import re
from dataclasses import dataclass
from datetime import UTC, datetime
from enum import StrEnum
from typing import ClassVar, Self

from bot.buttons.shape import ID

MOMENT = r"2\d{3}(?:0[1-9]|1[0-2])(?:0[1-9]|[12]\d|3[01])(?:[01]\d|2[0-3])[0-5]\d"
"""A minute in UTC, such as `202609031730`."""


def write_minute(moment: datetime) -> str:
    """A moment as buttons carry it, to the minute."""
    return f"{moment.astimezone(UTC):%Y%m%d%H%M}"


def read_minute(text: str) -> datetime | None:
    """What `write_minute` wrote; None for a day that there isn't."""
    try:
        return datetime.strptime(text, "%Y%m%d%H%M").replace(tzinfo=UTC)
    except ValueError:
        return None


@dataclass(frozen=True, slots=True)
class ClassesButton:
    """A page of a group's coming classes, or another class at some time."""

    kind: ClassVar[str] = "i"
    group: str
    page: int = 0
    adds: bool = False
    """Whether a class is to be added: at that time, or asks when."""
    at: datetime | None = None

    def write(self) -> str:
        """The data that goes into the button."""
        if not self.adds:
            return f"{self.kind}:{self.group}:{self.page}"
        when = "" if self.at is None else f":{write_minute(self.at)}"
        return f"{self.kind}:{self.group}:add{when}"

    @classmethod
    def read(cls, data: str) -> Self | None:
        """The button that wrote this; None if none did."""
        pattern = rf"i:({ID}):(?:(0|[1-9]\d?)|add(?::({MOMENT}))?)"
        found = re.fullmatch(pattern, data, re.ASCII)
        if found is None:
            return None
        if found[2] is not None:
            return cls(found[1], int(found[2]))
        at = None if found[3] is None else read_minute(found[3])
        return None if found[3] is not None and at is None else cls(found[1], adds=True, at=at)


class Deed(StrEnum):
    """What is done about one class. The values stand in buttons."""

    SHOW = "show"
    CANCEL = "off"
    """Asks."""
    CANCELLED = "gone"
    RESTORE = "on"
    MOVE = "when"
    """Asks when."""
    MOVE_TO = "to"
    """Asks."""
    MOVED = "moved"
    TELL = "tell"
    """Tells the members how it is now."""


MOVING = (Deed.MOVE_TO, Deed.MOVED)


@dataclass(frozen=True, slots=True)
class SessionButton:
    """Something to do about one class, if it is still when it was as the button was made."""

    kind: ClassVar[str] = "r"
    session: str
    at: datetime
    """When it began as the button was made."""
    deed: Deed = Deed.SHOW
    to: datetime | None = None
    """Where it is to be moved to."""

    def write(self) -> str:
        """The data that goes into the button."""
        to = "" if self.to is None else f":{write_minute(self.to)}"
        return f"{self.kind}:{self.session}:{write_minute(self.at)}:{self.deed}{to}"

    @classmethod
    def read(cls, data: str) -> Self | None:
        """The button that wrote this; None if none did."""
        deeds = "|".join(Deed)
        pattern = rf"r:({ID}):({MOMENT}):({deeds})(?::({MOMENT}))?"
        found = re.fullmatch(pattern, data, re.ASCII)
        if found is None:
            return None
        at, deed = read_minute(found[2]), Deed(found[3])
        to = None if found[4] is None else read_minute(found[4])
        if at is None or (to is not None) != (deed in MOVING):
            return None
        return cls(found[1], at, deed, to)


@dataclass(frozen=True, slots=True)
class CalendarButton:
    """An answer to a question about a calendar file: whose it is, which events, whether to use it.

    `group` says whose; `event` is the place of a title in the file; else it is a yes or a no.
    """

    kind: ClassVar[str] = "v"
    upload: str
    yes: bool | None = None
    group: str | None = None
    event: int | None = None
    everything: bool = False
    """All of its events."""

    def write(self) -> str:
        """The data that goes into the button."""
        if self.group is not None:
            answer = f"g{self.group}"
        elif self.event is not None:
            answer = f"e{self.event}"
        elif self.everything:
            answer = "all"
        else:
            answer = "y" if self.yes else "n"
        return f"{self.kind}:{self.upload}:{answer}"

    @classmethod
    def read(cls, data: str) -> Self | None:
        """The button that wrote this; None if none did."""
        pattern = rf"v:({ID}):(?:([yn])|g({ID})|e(0|[1-9]\d?)|(all))"
        found = re.fullmatch(pattern, data, re.ASCII)
        if found is None:
            return None
        return cls(
            found[1],
            yes=None if found[2] is None else found[2] == "y",
            group=found[3],
            event=None if found[4] is None else int(found[4]),
            everything=found[5] is not None,
        )
