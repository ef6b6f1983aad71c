"""Where an exploration begins, and with what: the lists of entries are made of these."""

from collections.abc import Awaitable, Callable
from dataclasses import dataclass
from typing import Protocol

from tests.exploration.scene import Scene
from tests.journeys.plans import MOVEMENTS

Prepare = Callable[[Scene], Awaitable[None]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One beginning."""

    prepare: Prepare
    movements: str = MOVEMENTS
    depth: int = 6
    """So many presses in every order, in the tests; the benchmark goes further.

    With 0 it is left to the benchmark.
    """
    least: int = 2
    """So many states there are at the least, or something was not followed."""
    typed: tuple[str, ...] = ()
    """What is typed in every state, besides what the questions on screen suggest."""
    leads: bool = False
    """Whether the instructor presses; else the member does."""


class Enter(Protocol):
    """Puts a beginning on its list."""

    def __call__(
        self,
        name: str,
        *,
        movements: str = MOVEMENTS,
        depth: int = 6,
        least: int,
        typed: tuple[str, ...] = (),
    ) -> Callable[[Prepare], Prepare]:
        """By its name."""


def beginnings(*, leads: bool = False) -> tuple[dict[str, Entry], Enter]:
    """A list of beginnings, and the way to put one on it."""
    entries: dict[str, Entry] = {}

    def entry(
        name: str,
        *,
        movements: str = MOVEMENTS,
        depth: int = 6,
        least: int,
        typed: tuple[str, ...] = (),
    ) -> Callable[[Prepare], Prepare]:
        def put(prepare: Prepare) -> Prepare:
            entries[name] = Entry(
                prepare=prepare,
                movements=movements,
                depth=depth,
                least=least,
                typed=typed,
                leads=leads,
            )
            return prepare

        return put

    return entries, entry
