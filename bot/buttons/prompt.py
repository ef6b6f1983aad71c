"""Buttons under the questions after class."""

import re
from dataclasses import dataclass
from enum import StrEnum
from typing import ClassVar, Self

from bot.buttons.shape import ID, NUMBER
from core.effort import from_6_20
from core.questions import WORDS, Question, Topic

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
