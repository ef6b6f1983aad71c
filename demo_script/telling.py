"""How the story is told on a terminal: short lines, close-ups of messages, headings."""

import textwrap
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, tzinfo
from typing import TextIO

from demo_script.stand_in import Message

BOT = "bot"
KILOBYTE = 1000
NAMED = 3  # how many people a line names before it counts the rest
TIME = 5
WHO = 8
MARGIN = TIME + 2 + WHO


@dataclass(slots=True, kw_only=True)
class Telling:
    """Writes plain text, with colours only where the terminal shows them."""

    out: TextIO
    zone: tzinfo
    width: int = 88
    colours: bool = False
    quiet: bool = False
    progress: TextIO | None = None
    """Where a quiet story shows how far it is; None for nowhere."""
    _day: str = ""

    def heading(self, text: str) -> None:
        """A line across the page."""
        self._write("")
        self._write(self._styled("1", f"━━ {text} ".ljust(self.width, "━")))

    def week(self, week: int, weeks: int, day: str) -> None:
        """How far the story is."""
        if self.progress is not None:
            print(f"\rweek {week} of {weeks} ", end="", file=self.progress, flush=True)
        done = "■" * week + "□" * (weeks - week)
        self.heading(f"Week {week} of {weeks} {done} class on {day}")

    def ended(self) -> None:
        """The story is over; what follows are figures."""
        if self.progress is not None:
            print("\r" + " " * 16 + "\r", end="", file=self.progress, flush=True)
        self.quiet = False

    def note(self, text: str) -> None:
        """Something that happens outside the chat."""
        for line in textwrap.wrap(text, self.width - MARGIN, replace_whitespace=False):
            self._write(" " * MARGIN + self._styled("2", line))

    def line(self, at: datetime, who: str, text: str) -> None:
        """Who wrote or tapped what."""
        local = at.astimezone(self.zone)
        if f"{local:%a %-d %b}" != self._day:
            self._day = f"{local:%a %-d %b}"
            self._write(self._styled("1", self._day))
        first, *more = textwrap.wrap(text, self.width - MARGIN) or [""]
        self._write(f"{local:%H:%M}  {self._who(who)}{first}")
        for each in more:
            self._write(" " * MARGIN + each)

    def short(self, at: datetime, to: Sequence[str], message: Message, *, change: str = "") -> None:
        """The beginning of a message from the bot, on one line; `change` says what it changed."""
        text = " / ".join(line for line in message.text.splitlines() if line.strip())
        labels = tuple(label for row in message.labels for label in row)
        room = self.width - MARGIN
        keys = _few_keys(labels)
        head = f"→ {several(to)}{change and ', ' + change}: {file_words(message)}"
        text = textwrap.shorten(text, max(room - len(head) - len(keys) - 1, 24), placeholder=" …")
        self.line(at, BOT, f"{head}{text} {keys}".rstrip())

    def close_up(self, at: datetime, to: Sequence[str], message: Message) -> None:
        """A whole message from the bot with its buttons."""
        self.line(at, BOT, f"→ {several(to)}: {file_words(message)}".rstrip())
        bar = " " * MARGIN + self._styled("2", "│ ")
        for paragraph in message.text.splitlines():
            for each in textwrap.wrap(paragraph, self.width - MARGIN - 2) or [""]:
                self._write(f"{bar}{each}".rstrip())
        for row in message.labels:
            for each in textwrap.wrap(keys(row), self.width - MARGIN - 2):
                self._write(bar + self._styled("36", each))

    def plain(self, text: str = "") -> None:
        """Text as it is, also when told to be quiet: figures and findings."""
        print(text, file=self.out, flush=True)

    def finding(self, holds: bool, name: str, evidence: str) -> None:
        """Whether something came true, and how one sees it."""
        mark = self._styled("32", "yes") if holds else self._styled("1;31", "NO ")
        self.plain(f"{mark}  {name}")
        for line in textwrap.wrap(evidence, self.width - 5):
            self.plain(f"     {self._styled('2', line)}")

    def _who(self, who: str) -> str:
        return self._styled("34" if who == BOT else "33", who.ljust(WHO - 1)) + " "

    def _styled(self, style: str, text: str) -> str:
        return f"\x1b[{style}m{text}\x1b[0m" if self.colours else text

    def _write(self, line: str) -> None:
        if not self.quiet:
            print(line, file=self.out, flush=True)


def file_words(message: Message) -> str:
    """What is attached and how large it is; empty for a message without a file."""
    file = message.attachment
    if file is None:
        return ""
    what = f"{file.width} × {file.height} pixels" if file.kind == "photo" else file.name
    return f"({what}, {-(-len(file.content) // KILOBYTE)} kB) "


def keys(labels: Iterable[str]) -> str:
    """Buttons as they stand in a row."""
    return " ".join(f"[{label}]" for label in labels)


def several(names: Sequence[str]) -> str:
    """Who is meant, without a long list."""
    if len(names) <= NAMED:
        return ", ".join(names)
    return f"{', '.join(names[: NAMED - 1])} and {len(names) - NAMED + 1} more"


def _few_keys(labels: Sequence[str]) -> str:
    return keys(labels) if len(labels) <= NAMED else f"[{labels[0]}] … [{labels[-1]}]"
