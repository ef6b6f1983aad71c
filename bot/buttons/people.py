"""Buttons by which instructors look after people: roster, persons, who was there, who leads."""

import re
from dataclasses import dataclass
from enum import StrEnum
from typing import ClassVar, Self

from bot.buttons.shape import ID


@dataclass(frozen=True, slots=True)
class RosterButton:
    """A page of a group's roster."""

    kind: ClassVar[str] = "C"
    group: str
    page: int = 0

    def write(self) -> str:
        """The data that goes into the button."""
        return f"{self.kind}:{self.group}:{self.page}"

    @classmethod
    def read(cls, data: str) -> Self | None:
        """The button that wrote this; None if none did."""
        found = re.fullmatch(rf"C:({ID}):(0|[1-9]\d?)", data, re.ASCII)
        return cls(found[1], int(found[2])) if found else None


class Care(StrEnum):
    """What an instructor does about one member. The values stand in buttons."""

    CARD = "card"
    NAME = "name"
    CHAT_NAME = "chat"
    NOTES = "notes"
    NOTE = "note"
    ERASE_NOTE = "erase"
    NOTE_ERASED = "erased"
    REMOVE = "remove"
    REMOVED = "removed"
    RETURN = "return"


@dataclass(frozen=True, slots=True)
class PersonButton:
    """Something to do about one member of a group, or about one note on them."""

    kind: ClassVar[str] = "D"
    group: str
    person: str
    care: Care = Care.CARD
    note: str | None = None

    def write(self) -> str:
        """The data that goes into the button."""
        parts = (self.kind, self.group, self.person, self.care, self.note)
        return ":".join(part for part in parts if part is not None)

    @classmethod
    def read(cls, data: str) -> Self | None:
        """The button that wrote this; None if none did."""
        cares = "|".join(Care)
        found = re.fullmatch(rf"D:({ID}):({ID}):({cares})(?::({ID}))?", data, re.ASCII)
        if found is None:
            return None
        care = Care(found[3])
        if (found[4] is not None) != (care in (Care.ERASE_NOTE, Care.NOTE_ERASED)):
            return None
        return cls(found[1], found[2], care, found[4])


class Presence(StrEnum):
    """What an instructor says of who was there. The values stand in buttons."""

    THERE = "there"
    AWAY = "away"
    UNKNOWN = "unknown"
    OTHERS = "others"
    """Everybody else wasn't there: asks."""
    OTHERS_AWAY = "yes"
    """The same, said."""


@dataclass(frozen=True, slots=True)
class AttendanceButton:
    """Look at who was there in a class, or note it; it says what will be so, so twice is once."""

    kind: ClassVar[str] = "E"
    session: str
    page: int = 0
    presence: Presence | None = None
    """None looks."""
    person: str | None = None

    def write(self) -> str:
        """The data that goes into the button."""
        parts = (self.kind, self.session, str(self.page), self.presence, self.person)
        return ":".join(part for part in parts if part is not None)

    @classmethod
    def read(cls, data: str) -> Self | None:
        """The button that wrote this; None if none did."""
        one, all_others = "there|away|unknown", "others|yes"
        found = re.fullmatch(
            rf"E:({ID}):(0|[1-9]\d?)(?::(?:({one}):({ID})|({all_others})))?", data, re.ASCII
        )
        if found is None:
            return None
        said = found[3] or found[5]
        return cls(found[1], int(found[2]), Presence(said) if said else None, found[4])


class Lead(StrEnum):
    """What is done about who leads a group. The values stand in buttons."""

    SHOW = "show"
    SHARE = "share"
    HAND_OVER = "over"
    HANDED_OVER = "handed"
    CLASSES = "classes"
    """Choose the class for a substitute."""
    STAND_IN = "standin"
    TAKE_BACK = "back"
    END = "end"
    """A substitute is no longer needed."""
    LEAVE = "leave"
    LEFT = "left"
    NEWCOMER = "new"
    """Invite somebody by name."""
    INVITED = "invited"
    UNINVITE = "uninvite"
    EXPORT = "export"
    ACCEPT = "yes"
    DECLINE = "no"


ABOUT_SOMETHING = (Lead.STAND_IN, Lead.TAKE_BACK, Lead.END, Lead.INVITED, Lead.UNINVITE)


@dataclass(frozen=True, slots=True)
class LeadButton:
    """Something to do about who leads a group, or what is theirs to do for all of it.

    `id` is the group's; where somebody answers whether to lead, it is the link's.
    """

    kind: ClassVar[str] = "F"
    id: str
    lead: Lead = Lead.SHOW
    about: str | None = None
    """A class, a link, a substitute or somebody invited, by id."""

    def write(self) -> str:
        """The data that goes into the button."""
        parts = (self.kind, self.id, self.lead, self.about)
        return ":".join(part for part in parts if part is not None)

    @classmethod
    def read(cls, data: str) -> Self | None:
        """The button that wrote this; None if none did."""
        leads = "|".join(Lead)
        found = re.fullmatch(rf"F:({ID}):({leads})(?::({ID}))?", data, re.ASCII)
        if found is None:
            return None
        lead = Lead(found[2])
        if (found[3] is not None) != (lead in ABOUT_SOMETHING):
            return None
        return cls(found[1], lead, found[3])
