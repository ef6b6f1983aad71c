"""Buttons to set up a group, change its plan, invite people, and try it out."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import ClassVar, Self

from bot.buttons.prompt import AnswerButton
from bot.buttons.shape import ID, NUMBER, Single
from core.questions import Question


class Stage(StrEnum):
    """What of a plan in progress can be on screen. The values stand in buttons and drafts."""

    NAME = "name"
    DAYS = "days"
    CLOCK = "clock"
    MINUTES = "minutes"
    ZONE = "zone"
    LIBRARY = "library"
    """Movements to choose from; `about` is the page, counted from 0."""
    LINES = "lines"
    """All movements that were chosen."""
    LINE = "line"
    """One of them; `about` is the id of its name."""
    DROP = "drop"
    """The question whether to take it out."""
    TARGET = "target"
    """Of the whole class, or of the movement that `about` names."""
    PREVIEW = "preview"
    """All of it, before it comes true."""
    REST = "rest"
    """It was left for later."""


@dataclass(frozen=True, slots=True)
class Step:
    """One screen of a plan in progress."""

    stage: Stage
    about: str = ""

    def __str__(self) -> str:
        """The short form that buttons and the database carry."""
        return f"{self.stage}:{self.about}" if self.about else str(self.stage)

    @classmethod
    def read(cls, text: str) -> Self | None:
        """The step of that short form; None if there is none."""
        stage, _, about = text.partition(":")
        return cls(Stage(stage), about) if stage in tuple(Stage) else None


class Act(StrEnum):
    """What a button does to a plan in progress. Each says what is to be, so twice is once."""

    SHOW = "s"
    DAY = "d"
    CLOCK = "c"
    MINUTES = "m"
    ZONE = "z"
    TAKE = "t"
    """A ladder of the library, by the id of its name."""
    VARIATION = "v"
    """Of a movement, by the id of its name: the rung of its ladder."""
    AMOUNT = "a"
    SETS = "n"
    LOAD = "l"
    TARGET = "e"
    """Of a movement or, with `-`, of the whole class."""
    PLACE = "p"
    """In the order of the class, from 0."""
    DROP = "x"
    MAKE = "y"
    """The group is made."""
    ONCE = "o"
    """The plan holds for the next class alone."""
    ALWAYS = "w"
    """It holds from the next class on."""
    DISCARD = "r"


ARGUMENTS: Mapping[Act, str] = {
    Act.SHOW: rf"[a-z]{{4,7}}(?::(?:{ID}|\d))?",
    Act.DAY: r"[0-6][+-]",
    Act.CLOCK: r"[0-2]\d[0-5]\d",
    Act.MINUTES: r"\d{1,3}",
    Act.ZONE: r"[A-Za-z0-9_+/-]{1,40}",
    Act.TAKE: ID,
    Act.VARIATION: rf"{ID}:\d",
    Act.AMOUNT: rf"{ID}:{NUMBER}",
    Act.SETS: rf"{ID}:\d{{1,2}}",
    Act.LOAD: rf"{ID}:{NUMBER}",
    Act.TARGET: rf"(?:{ID}|-):{NUMBER}",
    Act.PLACE: rf"{ID}:\d{{1,2}}",
    Act.DROP: ID,
}
"""What each may carry; the others carry nothing."""


@dataclass(frozen=True, slots=True)
class DraftButton:
    """One step of a plan in progress, or one thing that is to be in it."""

    kind: ClassVar[str] = "b"
    draft: str
    act: Act
    value: str = ""

    def write(self) -> str:
        """The data that goes into the button."""
        end = f":{self.value}" if self.value else ""
        return f"{self.kind}:{self.draft}:{self.act}{end}"

    @classmethod
    def read(cls, data: str) -> Self | None:
        """The button that wrote this; None if none did, or the value doesn't fit what it does."""
        found = re.fullmatch(rf"b:({ID}):([a-z])(?::(.+))?", data, re.ASCII)
        if found is None or found[2] not in tuple(Act):
            return None
        act, value = Act(found[2]), found[3] or ""
        if not re.fullmatch(ARGUMENTS.get(act, ""), value, re.ASCII):
            return None
        if act is Act.SHOW and Step.read(value) is None:
            return None
        return cls(found[1], act, value)


@dataclass(frozen=True, slots=True)
class PlanButton(Single):
    """Begin to change the plan of a group's next class."""

    kind: ClassVar[str] = "f"


@dataclass(frozen=True, slots=True)
class InviteButton(Single):
    """Close the link with this id, and make a new one into its group."""

    kind: ClassVar[str] = "o"


MOST_TRIED = 6
"""Answers that a trial may hold: of the class, one movement in full, and what hurts."""


ANEW = "new"


@dataclass(frozen=True, slots=True)
class TrialButton:
    """The questions after class, tried out: what was said is in the button, and nowhere else."""

    kind: ClassVar[str] = "q"
    group: str
    said: tuple[tuple[Question, str], ...] = ()
    """Questions with what an answer button carries for them, in the order of asking."""
    anew: bool = False
    """Whether the trial begins, in a message of its own."""

    def write(self) -> str:
        """The data that goes into the button."""
        if self.anew:
            return f"{self.kind}:{self.group}:{ANEW}"
        return ":".join((self.kind, self.group, *(f"{each}{value}" for each, value in self.said)))

    @classmethod
    def read(cls, data: str) -> Self | None:
        """The button that wrote this; None if none did, or an answer doesn't fit its question."""
        if begins := re.fullmatch(rf"q:({ID}):{ANEW}", data, re.ASCII):
            return cls(begins[1], anew=True)
        found = re.fullmatch(rf"q:({ID})((?::[a-z0-9.]+)*)", data, re.ASCII)
        parts = found[2].split(":")[1:] if found else []
        if found is None or len(parts) > MOST_TRIED:
            return None
        said = [_answer(found[1], part) for part in parts]
        right = tuple(each for each in said if each is not None)
        return cls(found[1], right) if len(right) == len(parts) else None


def _answer(group: str, part: str) -> tuple[Question, str] | None:
    """`e0unfinished` is a question and an answer to it."""
    question = Question.read(part[:2]) or Question.read(part[:1])
    if question is None:
        return None
    value = part.removeprefix(str(question))
    fits = AnswerButton.read(f"a:{group}:{question}:{value}") is not None
    return (question, value) if fits else None
