"""What people are called in lists: short, and nobody taken for another."""

from collections import Counter
from collections.abc import Mapping

MOST_LETTERS = 18
"""Of a name in a list; longer ones have an ellipsis."""
END = 6
"""Letters of a name's end, where only that tells two apart."""


def call_names(names: Mapping[str, str]) -> dict[str, str]:
    """A short name for everybody, by id: the first name if nobody else has it, or more of it."""
    called: dict[str, str] = {}
    for shorter in (_first, _with_initial, _beginning, _both_ends):
        left = {each: shorter(name) for each, name in names.items() if each not in called}
        times = Counter(name.casefold() for name in left.values())
        taken = {name.casefold() for name in called.values()}
        called |= {
            each: name
            for each, name in left.items()
            if times[name.casefold()] == 1 and name.casefold() not in taken
        }
    same = [each for each in names if each not in called]
    for number, each in enumerate(same, 1):  # the same name twice: told apart by a number
        called[each] = f"{_beginning(names[each])} #{number}"
    return called


def _first(name: str) -> str:
    return _beginning(name.split()[0] if name.split() else name)


def _with_initial(name: str) -> str:
    first, *rest = name.split() or [name]
    return _beginning(f"{first} {rest[-1][0]}." if rest else first)


def _beginning(name: str) -> str:
    return name if len(name) <= MOST_LETTERS else name[: MOST_LETTERS - 1].rstrip() + "…"


def _both_ends(name: str) -> str:
    if len(name) <= MOST_LETTERS:
        return name
    return name[: MOST_LETTERS - END - 1].rstrip() + "…" + name[-END:].lstrip()
