"""What a message is: a text, and rows of buttons under it."""

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from html import unescape

from bot.buttons import Button
from bot.words.speech import Html, Speech

LONGEST_TEXT, LONGEST_CAPTION = 4096, 1024
"""What the chat API takes in a message and under a picture, counted by `length`."""
MARKUP = re.compile(r"<[^>]*>")


@dataclass(frozen=True, slots=True)
class Key:
    """A button as people see it, with what it does."""

    label: str
    button: Button


@dataclass(frozen=True, slots=True)
class Link:
    """A button that leads somewhere, and tells us nothing."""

    label: str
    url: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Message:
    """A text and the buttons under it, row by row."""

    text: Html
    rows: tuple[tuple[Key | Link, ...], ...] = ()
    personal: bool = True
    """Whether it holds something about a person, so that it can't be passed on."""


def plain(sentence: str) -> Callable[[Speech], Message]:
    """A message that is always the same, in whatever language; mark the sentence with `later`."""

    def said(speech: Speech) -> Message:
        return Message(text=speech.text(sentence), personal=False)

    return said


def short(label: str, most: int = 60) -> str:
    """A label that fits on a button."""
    return label if len(label) <= most else label[: most - 1] + "…"


def plain_of(text: Html) -> str:
    """The text without markup, for where text means itself."""
    return unescape(MARKUP.sub("", text))


def length(text: Html) -> int:
    """As the chat API counts: without markup, in UTF-16, where most pictures are two or more."""
    return len(unescape(MARKUP.sub("", text)).encode("utf-16-le")) // 2


def fitting(texts: Iterable[Html]) -> Html:
    """The first text that fits into a message, the fullest first; with common names that is it."""
    shortest = Html()
    for shortest in texts:
        if length(shortest) <= LONGEST_TEXT:
            break
    return shortest
