"""What was read before, remembered with a mark of all that it was made from."""

from collections import OrderedDict
from collections.abc import Callable, Mapping
from functools import lru_cache
from threading import Lock
from typing import Any, Generic, TypeVar

from core.reports import Bout, Session, SessionRating

T = TypeVar("T")

MOST_PROMPTS = 1024
"""Whose answers are worked out once for everybody's history and for their own: some evenings'."""
MOST_ALIKE = 8192
"""Values of which one object is kept."""
MOST_SAID = 60_000
"""Ratings and bouts in all histories: six groups of twenty for a year."""


def same(value: T) -> T:
    """One object for all values that are equal: the same few are said again and again."""
    found: T = _first(value)
    return found


@lru_cache(maxsize=MOST_ALIKE)
def _first(value: Any) -> Any:
    return value


class Remembered(Generic[T]):
    """A head start for what is read again and again; the same to whoever asks, from any thread."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._kept: dict[str, tuple[int, T]] = {}
        """By row: a mark of all that it was made from, and what was made."""
        self._turn = Lock()

    def __len__(self) -> int:
        """How many rows are remembered."""
        return len(self._kept)

    def get(self, row: str, mark: int, make: Callable[[], T]) -> T:
        """What was made for that row, or is made now since it has another mark."""
        kept = self._kept.get(row)
        if kept is not None and kept[0] == mark:
            return kept[1]
        made = make()
        with self._turn:
            self._kept[row] = (mark, made)
            while len(self._kept) > self._most:
                del self._kept[next(iter(self._kept))]  # the one that came first
        return made

    def forget(self) -> None:
        """Nothing was read before."""
        with self._turn:
            self._kept.clear()


Of = tuple[str, str | None]
"""Whose history: a group's id, and one of its members or everybody."""
Told = Mapping[str, tuple[int, Session]]
"""What was said about each class, by its id, with a mark of all that it was made from."""


class LastRead:
    """Each history as it was read last: a head start for whoever reads it next."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._kept: OrderedDict[Of, tuple[int, Told]] = OrderedDict()
        """With how much each is; the latest last."""
        self._size = 0
        self._turn = Lock()  # some are read in a thread

    def __len__(self) -> int:
        """How many answers are remembered, about."""
        return self._size

    def of(self, whose: Of) -> Told:
        """What was read last; nothing if that isn't remembered."""
        with self._turn:
            if whose not in self._kept:
                return {}
            self._kept.move_to_end(whose)
            return self._kept[whose][1]

    def keep(self, whose: Of, read: Told) -> None:
        """Remember this in the place of what was read before; what was read long ago goes."""
        size = sum(1 + len(each.ratings) + len(each.bouts) for _, each in read.values())
        with self._turn:
            before, _ = self._kept.pop(whose, (0, {}))
            self._kept[whose] = (size, read)
            self._size += size - before
            while len(self._kept) > 1 and self._size > self._most:
                _, (gone, _) = self._kept.popitem(last=False)
                self._size -= gone

    def forget(self) -> None:
        """Nothing was read before."""
        with self._turn:
            self._kept.clear()
            self._size = 0


Read = tuple[SessionRating | None, tuple[Bout, ...]]
"""What a prompt's answers say."""

PROMPTS = Remembered[Read](MOST_PROMPTS)
HISTORIES = LastRead(MOST_SAID)


def forget_histories() -> None:
    """Read all anew: for whoever is erased, and for tests that measure."""
    HISTORIES.forget()
    PROMPTS.forget()
