"""What was read before, remembered by its row: as it is now, and never as it was in between."""

from collections.abc import Callable
from threading import Lock
from typing import Generic, TypeVar

T = TypeVar("T")


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
