"""Work that is asked for more often than it has to be done: shared, put off, or replaced."""

import asyncio
from collections.abc import Awaitable, Callable
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Generic, TypeVar

from bot.clock import Clock
from bot.tasks import Work

T = TypeVar("T")

REST = 49
"""So many times as long as a run took no other begins: it has a fiftieth of the time at most."""
LONGEST_REST = timedelta(seconds=3)


class Latest:
    """At most one run at a time for each key: of those asked for meanwhile only the last follows.

    For work that looks at how things are by then, such as what to show after answers that somebody
    changes one after the other.
    """

    def __init__(self) -> None:
        self._next: dict[str, Work | None] = {}
        """What follows each that runs."""

    async def run(self, key: str, work: Work) -> None:
        """Do it, or leave it to whoever is at it, who may forget it if something newer comes."""
        if key in self._next:
            self._next[key] = work
            return
        following: Work | None = work
        try:
            while following is not None:
                self._next[key] = None
                await following()
                following = self._next[key]
        finally:
            del self._next[key]


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
    for each of them. After a run that took long the next ones to ask wait for each other a while.
    """

    def __init__(self, clock: Clock) -> None:
        self._clock = clock
        self._pieces: dict[str, _Piece[T]] = {}
        self._rests: dict[str, datetime] = {}
        """Until when each rests."""

    async def run(self, key: str, work: Callable[[], Awaitable[T]]) -> T:
        """The result of a run that begins from now on; what the work raises is raised."""
        piece = self._pieces.setdefault(key, _Piece())
        piece.asked += 1
        mine = piece.asked
        try:
            async with piece.turn:  # in the order of asking
                if piece.served < mine:
                    await self._rest(key)
                    serves = piece.asked
                    piece.result = [await self._timed(key, work)]
                    piece.served = serves
                return piece.result[0]
        finally:
            if piece.asked == mine:  # nobody else waits
                self._pieces.pop(key, None)

    async def _rest(self, key: str) -> None:
        now = self._clock.now()
        rest = self._rests.get(key, now) - now
        if rest > timedelta(0):
            # no longer than the longest, for clocks are set back
            await self._clock.wait(min(rest, LONGEST_REST).total_seconds())

    async def _timed(self, key: str, work: Callable[[], Awaitable[T]]) -> T:
        began = self._clock.now()
        try:
            return await work()
        finally:
            now = self._clock.now()
            self._rests = {each: until for each, until in self._rests.items() if until > now}
            self._rests[key] = now + min(REST * (now - began), LONGEST_REST)
