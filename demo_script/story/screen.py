"""What a person sees in the chat: the question on screen, and the buttons that answer it."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import TypeVar

from bot.buttons import AnswerButton, read_button
from core.questions import Question
from demo_script.stand_in import Button, Message, Person

Kind = TypeVar("Kind")


@dataclass(frozen=True, slots=True)
class Offer:
    """A button that answers, and what it carries."""

    button: Button
    carries: AnswerButton


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """A question as it stands on screen."""

    message: Message
    prompt: str
    question: Question
    offers: tuple[Offer, ...]

    def nearest(self, number: float) -> Offer:
        """The button whose number comes closest."""
        numbered = [each for each in self.offers if each.carries.number is not None]
        return min(numbered, key=lambda each: abs((each.carries.number or 0.0) - number))

    def word(self, word: str) -> Offer:
        """The button that carries this word; LookupError if none does."""
        return self._first(lambda offer: offer.carries.word == word, word)

    def labelled(self, label: str) -> Offer:
        """The button that says this; LookupError if none does."""
        return self._first(lambda offer: offer.button.label == label, label)

    def _first(self, fits: Callable[[Offer], bool], wanted: str) -> Offer:
        for offer in self.offers:
            if fits(offer):
                return offer
        raise LookupError(f"no button for {wanted!r} under {self.message.text!r}")


def question_on_screen(person: Person) -> Shown | None:
    """The newest question that still has its buttons; None if nothing is asked."""
    found = (question_in(message) for message in reversed(person.messages))
    return next((shown for shown in found if shown is not None), None)


def question_in(message: Message) -> Shown | None:
    """The question that this message asks; None if it asks none."""
    offers = tuple(Offer(button, found) for button, found in carried(message, AnswerButton))
    if not offers:
        return None
    first = offers[0].carries
    return Shown(message=message, prompt=first.prompt, question=first.question, offers=offers)


def carried(message: Message, kind: type[Kind], **having: object) -> Iterator[tuple[Button, Kind]]:
    """The buttons of this kind under a message, with these values."""
    for button, found in every_button(message):
        if isinstance(found, kind) and all(getattr(found, k) == v for k, v in having.items()):
            yield button, found


def every_button(message: Message) -> Iterator[tuple[Button, object]]:
    """Every button that carries something for the bot, with what it carries."""
    for row in message.buttons:
        for button in row:
            found = None if button.data is None else read_button(button.data)
            if found is not None:
                yield button, found


def latest(person: Person, kind: type[Kind], **having: object) -> tuple[Message, Button, Kind]:
    """The newest button of this kind in a person's chat; LookupError if there is none."""
    for message in reversed(person.messages):
        for button, found in carried(message, kind, **having):
            return message, button, found
    raise LookupError(f"{person.name} sees no {kind.__name__}")


def movement_named(text: str, movements: tuple[str, ...]) -> str | None:
    """The movement that a message names first; None if it names none."""
    places = {name: text.find(name) for name in movements if name in text}
    return min(places, key=lambda name: (places[name], -len(name))) if places else None
