"""Which class, and what of it, a prompt is about; and single answers in words."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from bot.words.doses import amount_words
from bot.words.speech import Html, Speech, bold, later
from core.effort import Scale
from core.movement import Dose, Measure, Movement
from core.plan import Plan
from core.questions import (
    ABSENT,
    FINE,
    GENERAL,
    SKIPPED,
    UNFINISHED,
    Answers,
    Asked,
    Question,
    Said,
    Topic,
    done,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Occasion:
    """One member's prompt: whose language, which class, which movements."""

    speech: Speech
    prompt: str
    """The prompt's id, for its buttons."""
    group: str
    on: date
    plan: Plan
    asked: tuple[Asked, ...]
    answers: Answers
    """What was said so far."""
    newcomer: bool = False
    """Whether they are new to the scale, so that its words stand under every question."""

    @property
    def head(self) -> Html:
        """The first line of every message about it."""
        return Html(f"{bold(self.group)} · {self.speech.day(self.on)}")

    def about(self, question: Question) -> Asked:
        """The movement that a question is about."""
        return self.asked[question.place or 0]

    def movement(self, question: Question) -> Movement | None:
        """The same with its ladder; None if the plan has lost it."""
        line = self.plan.line(self.about(question).movement)
        return line.movement if line else None

    def dose(self, question: Question) -> Dose:
        """What they did of it: what they were told, unless they said something else."""
        return done(self.about(question), question.place or 0, self.answers)

    def is_hold(self, question: Question) -> bool:
        """Whether the movement is counted in seconds."""
        movement = self.movement(question)
        return movement is not None and movement.measure is Measure.HOLD

    def label(self, question: Question) -> str:
        """What a question is about, in a word or two; plain text."""
        match question.topic:
            case Topic.SESSION:
                return self.speech.label("Whole class")
            case Topic.HURT:
                return self.speech.label("Anything wrong")
            case Topic.WHERE:
                return self.speech.label("During")
            case _:
                return self.about(question).movement

    def said(self, question: Question, said: Said) -> str:
        """One answer; plain text."""
        if said.word is not None:
            return self.speech.label(ANSWERS[said.word])
        number = said.number or 0.0
        match question.topic:
            case Topic.SESSION | Topic.EFFORT:
                return self._rating(said)
            case Topic.HURT:
                return self.speech.number(number)
            case Topic.VARIATION:
                return self.about(question).ladder[int(number)]
            case Topic.AMOUNT:
                return self._amount(question, number)
            case Topic.LOAD:
                return self.speech.label("{load} kg", load=self.speech.number(number))
            case Topic.COMPLETED:
                return self.speech.label("got to {amount}", amount=self._amount(question, number))
            case Topic.RESERVE:
                return self.speech.label("{amount} left", amount=self._amount(question, number))
            case Topic.WHERE:
                return self.plan.lines[int(number)].movement.name

    def _rating(self, said: Said) -> str:
        """What they tapped, as they tapped it, unless they have changed scales since."""
        if said.on_6_20 is not None and self.speech.scale is Scale.TWENTY:
            return self.speech.number(said.on_6_20)
        return self.speech.rating(said.number or 0.0)

    def _amount(self, question: Question, number: float) -> str:
        movement = self.movement(question)
        if movement is None:
            return self.speech.number(number)
        return amount_words(self.speech, number, movement.measure)


ANSWERS: Mapping[str, str] = {
    ABSENT: later("wasn't there"),
    UNFINISHED: later("stopped early"),
    SKIPPED: later("skipped"),
    FINE: later("all fine"),
    GENERAL: later("not one movement"),
    "soreness": later("sore muscles"),
    "pain": later("joint or sharp pain"),
    "warning": later("a warning sign"),
}
