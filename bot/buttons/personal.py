"""Buttons under what people do about themselves: what hurts, pauses, settings, their data."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import ClassVar, Self

from bot.buttons.shape import ID, Single
from core.effort import Scale
from core.reports import SymptomKind


@dataclass(frozen=True, slots=True)
class HurtButton:
    """What hurts: as much as was said of it so far."""

    kind: ClassVar[str] = "h"
    id: str
    symptom: SymptomKind | None = None
    group: str | None = None
    where: str | None = None
    """A movement by the id of its name; `-` for none of them."""

    def write(self) -> str:
        """The data that goes into the button."""
        said = (self.symptom and self.symptom[0], self.group, self.where)
        return ":".join((self.kind, self.id, *(part for part in said if part is not None)))

    @classmethod
    def read(cls, data: str) -> Self | None:
        """The button that wrote this; None if none did."""
        pattern = rf"h:({ID})(?::([spw])(?::({ID})(?::({ID}|-))?)?)?"
        found = re.fullmatch(pattern, data, re.ASCII)
        if found is None:
            return None
        symptom = next((each for each in SymptomKind if each[0] == found[2]), None)
        return cls(found[1], symptom, found[3], found[4])


@dataclass(frozen=True, slots=True)
class PauseButton:
    """No prompts for so many days, or until they say so."""

    kind: ClassVar[str] = "z"
    id: str
    choice: str

    def write(self) -> str:
        """The data that goes into the button."""
        return f"{self.kind}:{self.id}:{self.choice}"

    @classmethod
    def read(cls, data: str) -> Self | None:
        """The button that wrote this; None if none did."""
        found = re.fullmatch(rf"z:({ID}):(7|14|28|open|end|no)", data, re.ASCII)
        return cls(found[1], found[2]) if found else None


class Setting(StrEnum):
    """What can be set. The values stand in buttons."""

    SCALE = "scale"
    LANGUAGE = "language"
    ASKED = "asked"
    REMINDER = "reminder"
    QUIET_FROM = "from"
    QUIET_UNTIL = "until"
    HEART_RATE = "heart"


VALUES: Mapping[Setting, str] = {
    Setting.SCALE: "|".join(Scale),
    Setting.LANGUAGE: "auto|[a-z]{2}",
    Setting.ASKED: "after|evening|morning",
    Setting.REMINDER: "on|off",
    Setting.QUIET_FROM: r"\d{1,4}",
    Setting.QUIET_UNTIL: r"\d{1,4}",
    Setting.HEART_RATE: "ask|on|off|medicine",
}


@dataclass(frozen=True, slots=True)
class SettingButton:
    """Look at all settings or at one, or choose a value for it."""

    kind: ClassVar[str] = "e"
    id: str
    setting: Setting | None = None
    value: str | None = None

    def write(self) -> str:
        """The data that goes into the button."""
        parts = (self.kind, self.id, self.setting, self.value)
        return ":".join(part for part in parts if part is not None)

    @classmethod
    def read(cls, data: str) -> Self | None:
        """The button that wrote this; None if none did, or there is no such value."""
        found = re.fullmatch(rf"e:({ID})(?::([a-z]+)(?::([a-z0-9-]+))?)?", data, re.ASCII)
        if found is None or found[2] not in (None, *Setting):
            return None
        setting = None if found[2] is None else Setting(found[2])
        if setting and found[3] and not re.fullmatch(VALUES[setting], found[3], re.ASCII):
            return None
        return cls(found[1], setting, found[3])


@dataclass(frozen=True, slots=True)
class DataButton:
    """Export what is stored about me, ask for erasure, or answer the question about it."""

    kind: ClassVar[str] = "d"
    id: str
    choice: str

    def write(self) -> str:
        """The data that goes into the button."""
        return f"{self.kind}:{self.id}:{self.choice}"

    @classmethod
    def read(cls, data: str) -> Self | None:
        """The button that wrote this; None if none did."""
        found = re.fullmatch(rf"d:({ID}):(export|erase|yes|no)", data, re.ASCII)
        return cls(found[1], found[2]) if found else None


@dataclass(frozen=True, slots=True)
class WellAgainButton(Single):
    """The member says that a symptom is gone."""

    kind: ClassVar[str] = "m"
