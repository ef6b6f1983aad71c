"""Buttons, written and read in one place; what they carry is never trusted, only looked up.

A button's data is `kind:id` or `kind:id:rest`, at most 64 bytes. Ids are opaque; whether the
presser may do it, and whether it is still open, is decided by the row that the id names.
"""

import re
from dataclasses import dataclass
from enum import StrEnum
from typing import ClassVar, Self, get_args

from bot.button_data import ID
from bot.personal_buttons import (
    DataButton,
    HurtButton,
    LessonButton,
    PauseButton,
    SettingButton,
)
from core.effort import from_6_20
from core.questions import WORDS, Question, Topic
from core.verdict import Verdict

NUMBER = r"\d{1,4}(?:\.\d{1,2})?"
HIGHEST_RATING = 10.0


@dataclass(frozen=True, slots=True)
class AnswerButton:
    """An answer to one question of a prompt: a number or one of the question's words.

    A rating from 6 to 20 is marked as one, since the number alone could be either.
    """

    kind: ClassVar[str] = "a"
    prompt: str
    question: Question
    number: float | None = None
    """A rating is on our scale."""
    word: str | None = None
    on_6_20: int | None = None
    """The rating as it stands on the button, if that is from 6 to 20."""

    def write(self) -> str:
        """The data that goes into the button."""
        value = self.word if self.number is None else f"{self.number:g}"
        if self.on_6_20 is not None:
            value = f"b{self.on_6_20}"
        return f"{self.kind}:{self.prompt}:{self.question}:{value}"

    @classmethod
    def read(cls, data: str) -> Self | None:
        """The button that wrote this; None if none did, or the value doesn't fit the question."""
        found = re.fullmatch(rf"a:({ID}):([a-z]\d?):({NUMBER}|[a-z]+|b\d+)", data, re.ASCII)
        question = Question.read(found[2]) if found else None
        if found is None or question is None:
            return None
        if found[3] in WORDS[question.topic]:
            return cls(found[1], question, word=found[3])
        if re.fullmatch(r"b([6-9]|1\d|20)", found[3]) and question.is_rating:
            return cls.twenty(found[1], question, int(found[3][1:]))
        if not found[3][0].isdigit() or not accepts(question, float(found[3])):
            return None
        return cls(found[1], question, number=float(found[3]))

    @classmethod
    def twenty(cls, prompt: str, question: Question, rating: int) -> Self:
        """The button with this rating from 6 to 20."""
        return cls(prompt, question, number=round(from_6_20(rating), 1), on_6_20=rating)


def accepts(question: Question, number: float) -> bool:
    """Whether this number can be an answer to that question at all."""
    match question.topic:
        case Topic.SESSION | Topic.EFFORT:
            return 0 <= number <= HIGHEST_RATING
        case Topic.COMPLETED | Topic.RESERVE | Topic.LOAD:
            return number >= 0
        case Topic.AMOUNT:
            return number > 0
        case Topic.VARIATION | Topic.WHERE:
            return number >= 0 and number.is_integer()
        case Topic.HURT:
            return False


class View(StrEnum):
    """What of a prompt can be looked at besides its questions."""

    ANSWERS = "-"
    """Everything that was said, to choose what to change."""
    SUMMARY = "="
    """What was understood."""
    SCALE = "~"
    """What the numbers mean."""


@dataclass(frozen=True, slots=True)
class ShowButton:
    """Show a question of a prompt again, or one of its views."""

    kind: ClassVar[str] = "s"
    prompt: str
    view: Question | View

    def write(self) -> str:
        """The data that goes into the button."""
        return f"{self.kind}:{self.prompt}:{self.view}"

    @classmethod
    def read(cls, data: str) -> Self | None:
        """The button that wrote this; None if none did."""
        found = re.fullmatch(rf"s:({ID}):([-=~]|[a-z]\d?)", data, re.ASCII)
        if found is None:
            return None
        if found[2] in tuple(View):
            return cls(found[1], View(found[2]))
        question = Question.read(found[2])
        return None if question is None else cls(found[1], question)


@dataclass(frozen=True, slots=True)
class _Choice:
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
class JoinButton(_Choice):
    """Agree to what is stored and join, or not."""

    kind: ClassVar[str] = "j"


@dataclass(frozen=True, slots=True)
class ReplaceButton(_Choice):
    """Let an uploaded plan replace the one in force, or not."""

    kind: ClassVar[str] = "p"


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
class _Single:
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


@dataclass(frozen=True, slots=True)
class SeenButton(_Single):
    """The instructor has seen an alert."""

    kind: ClassVar[str] = "k"


@dataclass(frozen=True, slots=True)
class WellAgainButton(_Single):
    """The member says that a symptom is gone."""

    kind: ClassVar[str] = "m"


@dataclass(frozen=True, slots=True)
class UnlinkButton(_Single):
    """That group has no chat any more."""

    kind: ClassVar[str] = "u"


@dataclass(frozen=True, slots=True)
class ClearButton(_Single):
    """The instructor clears a symptom, so that the movement may get harder again."""

    kind: ClassVar[str] = "c"


@dataclass(frozen=True, slots=True)
class VerdictButton:
    """Too hard or too easy, in a class that is on: about one movement, or still to be said."""

    kind: ClassVar[str] = "t"
    session: str
    verdict: Verdict
    place: int | None = None
    """Place of the movement in the plan; None asks for it."""

    def write(self) -> str:
        """The data that goes into the button."""
        place = "-" if self.place is None else self.place
        return f"{self.kind}:{self.session}:{self.verdict}:{place}"

    @classmethod
    def read(cls, data: str) -> Self | None:
        """The button that wrote this; None if none did."""
        found = re.fullmatch(rf"t:({ID}):(hard|easy):(-|\d{{1,2}})", data, re.ASCII)
        if found is None:
            return None
        return cls(found[1], Verdict(found[2]), None if found[3] == "-" else int(found[3]))


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


Button = (
    AnswerButton
    | ShowButton
    | JoinButton
    | ReplaceButton
    | SeenButton
    | WellAgainButton
    | ClearButton
    | TapButton
    | LinkButton
    | UnlinkButton
    | HurtButton
    | PauseButton
    | SettingButton
    | DataButton
    | VerdictButton
    | EstimateButton
    | LessonButton
)
KINDS: tuple[type[Button], ...] = get_args(Button)


def read_button(data: str) -> Button | None:
    """Whichever button wrote this; None for anything else."""
    return next((button for kind in KINDS if (button := kind.read(data)) is not None), None)
