"""Work that serves everybody who has asked for it before it began."""

import asyncio
from collections.abc import Awaitable, Callable
from dataclasses import dataclass, field
from typing import Generic, TypeVar

T = TypeVar("T")


@dataclass(slots=True)
class _Piece(Generic[T]):
    turn: asyncio.Lock = field(default_factory=asyncio.Lock)
    asked: int = 0
    """How many have asked."""
    served: int = 0
    """How many of them had asked before the last run began."""
    result: list[T] = field(default_factory=list)


class Together(Generic[T]):
    """At most one run at a time for each key: whoever asks meanwhile shares the next one.

    When a whole class answers at once, what its answers say is worked out a few times, and not once
    for each of them.
    """

    def __init__(self) -> None:
        self._pieces: dict[str, _Piece[T]] = {}

    async def run(self, key: str, work: Callable[[], Awaitable[T]]) -> T:
        """The result of a run that begins from now on; what the work raises is raised."""
        piece = self._pieces.setdefault(key, _Piece())
        piece.asked += 1
        mine = piece.asked
        try:
            async with piece.turn:  # in the order of asking
                if piece.served < mine:
                    serves = piece.asked
                    piece.result = [await work()]
                    piece.served = serves
                return piece.result[0]
        finally:
            if piece.asked == mine:  # nobody else waits
                self._pieces.pop(key, None)
