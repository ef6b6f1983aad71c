"""A clock for tests: it stands still until it is pushed, and waiting pushes it."""

import asyncio
from datetime import UTC, datetime, timedelta

NOON = datetime(2026, 3, 2, 12, 0, tzinfo=UTC)


class FixedClock:
    """Stands at noon. Whoever waits on it moves it forward at once, so that no test is slow."""

    def __init__(self, moment: datetime = NOON) -> None:
        self.moment = moment

    def now(self) -> datetime:
        """The moment that it stands at."""
        return self.moment

    def push(self, seconds: float) -> datetime:
        """Move it forward; returns the new moment."""
        self.moment += timedelta(seconds=seconds)
        return self.moment

    async def wait(self, seconds: float, unless: asyncio.Event | None = None) -> None:
        """Let others run, then move forward unless the event is set meanwhile."""
        target = self.moment + timedelta(seconds=seconds)
        await asyncio.sleep(0.001)
        if unless is None or not unless.is_set():
            self.moment = max(self.moment, target)
