"""What a message is: a text, and rows of buttons under it."""

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from html import unescape
from unicodedata import category

from bot.buttons import Button
from bot.words.speech import END_OF_ISOLATE, ISOLATE, Html, Speech

LONGEST_TEXT, LONGEST_CAPTION = 4096, 1024
"""What the chat API takes in a message and under a picture, counted by `length`."""
MARKUP = re.compile(r"<[^>]*>")
ZWJ, JOINED = "\u200d", ("Mn", "Me", "Mc", "Cf")
"""The joiner between two pictures; Unicode's categories of what belongs to the sign before."""
TONES = "\U0001f3fb\U0001f3fc\U0001f3fd\U0001f3fe\U0001f3ff"
"""Skin tones, which belong to the picture before."""


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
    """A label that fits on a button; no letter or picture is cut in two, no direction left open."""
    if len(label) <= most:
        return label
    isolated = ISOLATE in label[:most]
    cut = label[: _between(label, most - 2 if isolated else most - 1)]
    unclosed = cut.count(ISOLATE) - cut.count(END_OF_ISOLATE)
    return f"{cut}…{END_OF_ISOLATE * unclosed}"


def _between(label: str, at: int) -> int:
    """That place, or one before it, at which no letter or picture made of several parts stands."""
    while at > 0 and (category(label[at]) in JOINED or label[at] in TONES or label[at - 1] == ZWJ):
        at -= 1
    return at


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
