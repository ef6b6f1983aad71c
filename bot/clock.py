"""The one door for time: what moment it is, and how to wait."""

import asyncio
from datetime import UTC, datetime
from typing import Protocol


class Clock(Protocol):
    """Tells the moment, in UTC, and waits. Tests and the demo bring clocks of their own."""

    def now(self) -> datetime:
        """The present moment, timezone-aware, in UTC."""
        ...

    async def wait(self, seconds: float, unless: asyncio.Event | None = None) -> None:
        """Return after that many seconds of this clock, or as soon as the event is set."""
        ...


async def give_way() -> None:
    """Let whatever else can go on do so first."""
    await asyncio.sleep(0)


class SystemClock:
    """The computer's own clock."""

    def now(self) -> datetime:
        """The present moment in UTC."""
        return datetime.now(UTC)

    async def wait(self, seconds: float, unless: asyncio.Event | None = None) -> None:
        """Return after that many seconds, or as soon as the event is set."""
        if unless is None:
            await asyncio.sleep(seconds)
            return
        try:
            async with asyncio.timeout(seconds):
                await unless.wait()
        except TimeoutError:
            return
