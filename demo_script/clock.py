"""A clock that stands still until it is pushed, so that weeks pass in a moment."""

import asyncio
from dataclasses import dataclass
from datetime import datetime, timedelta


@dataclass(eq=False)
class _Wait:
    until: datetime
    unless: asyncio.Event
    over: asyncio.Event


class PushedClock:
    """Whoever waits on it waits until it is pushed far enough."""

    def __init__(self, moment: datetime) -> None:
        self.moment = moment
        self._waits: set[_Wait] = set()

    def now(self) -> datetime:
        """The moment that it stands at."""
        return self.moment

    @property
    def at_rest(self) -> int:
        """How many wait for a push and for nothing that has happened already."""
        return sum(not (wait.unless.is_set() or wait.over.is_set()) for wait in self._waits)

    def push(self, seconds: float) -> datetime:
        """Move it forward, letting go of those whose wait is over; returns the new moment."""
        return self.push_to(self.moment + timedelta(seconds=seconds))

    def push_to(self, moment: datetime) -> datetime:
        """Move it forward to that moment; it never goes back."""
        self.moment = max(moment, self.moment)
        for wait in self._waits:
            if wait.until <= self.moment:
                wait.over.set()
        return self.moment

    async def wait(self, seconds: float, unless: asyncio.Event | None = None) -> None:
        """Return once it has been pushed that far, or as soon as the event is set."""
        until = self.moment + timedelta(seconds=seconds)
        wait = _Wait(until=until, unless=unless or asyncio.Event(), over=asyncio.Event())
        if until <= self.moment:
            wait.over.set()
        ends = [asyncio.create_task(event.wait()) for event in (wait.unless, wait.over)]
        self._waits.add(wait)
        try:
            await asyncio.wait(ends, return_when=asyncio.FIRST_COMPLETED)
        finally:
            self._waits.discard(wait)
            for end in ends:
                end.cancel()
