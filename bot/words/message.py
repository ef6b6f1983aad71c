"""What a message is: a text, and rows of buttons under it."""

from dataclasses import dataclass
from html import escape

from bot.buttons import Button


@dataclass(frozen=True, slots=True)
class Key:
    """A button as people see it, with what it does."""

    label: str
    button: Button


@dataclass(frozen=True, slots=True, kw_only=True)
class Message:
    """Text in the chat API's HTML, and the buttons under it, row by row."""

    text: str
    rows: tuple[tuple[Key, ...], ...] = ()
    personal: bool = True
    """Whether it holds something about a person, so that it can't be passed on."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Toast:
    """A short answer to a press that only the presser sees."""

    text: str
    stays: bool = False
    """Whether it stays on screen until it is closed."""


def html(text: str) -> str:
    """Text that means itself in the chat API's HTML."""
    return escape(text, quote=False)


def bold(text: str) -> str:
    """Text in bold, whatever characters it holds."""
    return f"<b>{html(text)}</b>"
