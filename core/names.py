"""What may be a name: short, visible, one line, and read in one direction."""

import unicodedata
from collections.abc import Iterable
from difflib import get_close_matches

LONGEST_NAME = 64
"""Characters; what fits on a button and in a table."""

TURNING = frozenset("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
"""Marks that turn the reading direction, and so can make one name look like another."""

UNSEEN = frozenset({"Cc", "Cs", "Co", "Cn", "Zl", "Zp"})
"""Unicode categories of control characters, half characters and line breaks."""


def readable(name: str) -> bool:
    """Whether this can stand as a name anywhere: tidy already, and not empty."""
    return name != "" and tidy(name) == name


def tidy(name: str) -> str:
    """The name without what can't be shown, spaces collapsed, at most 64 characters."""
    seen = "".join(" " if char.isspace() else char for char in name if not _hidden(char))
    return " ".join(seen.split())[:LONGEST_NAME].rstrip()


def nearest(name: str, known: Iterable[str]) -> str | None:
    """The known name that was probably meant; None if none is close."""
    by_key = {each.casefold(): each for each in known}
    close = get_close_matches(name.casefold(), by_key, n=1, cutoff=0.6)
    return by_key[close[0]] if close else None


def _hidden(char: str) -> bool:
    return char in TURNING or (unicodedata.category(char) in UNSEEN and not char.isspace())
