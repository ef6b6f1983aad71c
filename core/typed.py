"""What people type as answers: one, or several at once, such as `8, side plank 9`."""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from core.names import nearest

SEPARATOR = re.compile(r"[;\n]|,(?!\d)")  # `7,5` is one number, `8, 9` and `8, plank 9` are two
SHORTEST = 2  # letters that may stand for a name
PART = re.compile(r"(?P<name>[^\d]*?)[\s:=]*(?P<value>\d.*)?", re.DOTALL)


@dataclass(frozen=True, slots=True)
class Typed:
    """One answer among what was typed."""

    place: int | None
    """Which of the named things it's about, from 0; None if it names nothing."""
    value: str
    """The rest, still to be read as a number."""


def split_answers(text: str, names: Sequence[str]) -> tuple[Typed, ...] | None:
    """The answers in a text, in order; None if a name in it is none of these names.

    Names may be shortened or misspelt a little: `plank` is the side plank if no other begins so.
    """
    found = []
    for part in filter(None, (each.strip() for each in SEPARATOR.split(text))):
        matched = PART.fullmatch(part)
        name, value = (matched["name"], matched["value"]) if matched else (part, None)
        place = _place(name.strip(), names) if name.strip() else None
        if value is None or (name.strip() and place is None):
            return None
        found.append(Typed(place, value.strip()))
    return tuple(found) or None


def _place(name: str, names: Sequence[str]) -> int | None:
    wanted = name.casefold()
    if len(wanted) < SHORTEST or not any(each.isalpha() for each in wanted):
        return None  # `-1` isn't a push-up
    known = [each.casefold() for each in names]
    holding = [place for place, each in enumerate(known) if wanted in each]
    if len(holding) == 1:
        return holding[0]
    close = nearest(name, names)
    return None if close is None else list(names).index(close)
