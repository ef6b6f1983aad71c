"""Buttons by which a member says how a class goes, and learns the scale."""

import re
from dataclasses import dataclass
from typing import ClassVar, Self

from bot.buttons.shape import ID
from core.verdict import Verdict


@dataclass(frozen=True, slots=True)
class VerdictButton:
    """Too hard or too easy, in a class that is on: about one movement, or still to be said."""

    kind: ClassVar[str] = "t"
    session: str
    verdict: Verdict | None
    """None takes back what was said of the movement, and shows the class again."""
    place: int | None = None
    """Place of the movement in the plan; None asks for it."""

    def write(self) -> str:
        """The data that goes into the button."""
        verdict, place = ("-" if each is None else each for each in (self.verdict, self.place))
        return f"{self.kind}:{self.session}:{verdict}:{place}"

    @classmethod
    def read(cls, data: str) -> Self | None:
        """The button that wrote this; None if none did."""
        found = re.fullmatch(rf"t:({ID}):(-|hard|easy):(-|\d{{1,2}})", data, re.ASCII)
        if found is None:
            return None
        verdict = None if found[2] == "-" else Verdict(found[2])
        return cls(found[1], verdict, None if found[3] == "-" else int(found[3]))


@dataclass(frozen=True, slots=True)
class LessonButton:
    """A scene of the lesson about the scale, or what somebody would rate it."""

    kind: ClassVar[str] = "w"
    group: str
    place: int
    tenths: int | None = None
    """Tenths of a point on our scale; None shows the scene."""

    def write(self) -> str:
        """The data that goes into the button."""
        tenths = "-" if self.tenths is None else self.tenths
        return f"{self.kind}:{self.group}:{self.place}:{tenths}"

    @classmethod
    def read(cls, data: str) -> Self | None:
        """The button that wrote this; None if none did."""
        found = re.fullmatch(rf"w:({ID}):(\d):(-|\d\d?|100)", data, re.ASCII)
        if found is None:
            return None
        return cls(found[1], int(found[2]), None if found[3] == "-" else int(found[3]))
