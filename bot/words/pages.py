"""Long texts in as few messages as they fit into, cut between paragraphs, lines or names."""

import re
from collections.abc import Iterable

from bot.words.message import LONGEST_TEXT, length
from bot.words.speech import Html

MOST_ENTITIES = 100
"""Pieces of markup that the chat API takes in one message."""
OPENING = re.compile(r"<[a-z]")


def pages(blocks: Iterable[Html]) -> list[Html]:
    """What is too long for one message, or holds too much markup, is cut; each part is whole."""
    fitting = (page for block in blocks for page in _joined(_lines(block), "\n"))
    return _joined(fitting, "\n\n")


def fits(text: Html) -> bool:
    """Whether one message holds this."""
    return length(text) <= LONGEST_TEXT and len(OPENING.findall(text)) <= MOST_ENTITIES


def _lines(block: Html) -> Iterable[str]:
    """The lines of a block; one that no message could hold, since it names so many, in parts."""
    for line in block.split("\n"):
        yield from [line] if fits(Html(line)) else _joined(line.split(", "), ", ")


def _joined(parts: Iterable[str], gap: str) -> list[Html]:
    """Parts put together, as many as fit; each is HTML that stands by itself."""
    found: list[Html] = []
    for part in parts:
        if found and fits(Html(found[-1] + gap + part)):
            found[-1] = Html(found[-1] + gap + part)
        else:
            found.append(Html(part))
    return found
