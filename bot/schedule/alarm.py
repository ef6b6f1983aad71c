"""The alarm clock: wakes the turn every few seconds, and is asked nothing else."""

from asyncio import CancelledError
from collections.abc import Awaitable, Callable
from contextlib import suppress
from datetime import timedelta

from apscheduler.schedulers.asyncio import AsyncIOScheduler
from apscheduler.triggers.interval import IntervalTrigger


def set_alarm(turn: Callable[[], Awaitable[None]], every: timedelta) -> AsyncIOScheduler:
    """Start waking; the caller shuts it down.

    The library drops a job that is a second late unless told otherwise, and knows nothing of a
    computer that slept, so what is due is never left to it: a late or doubled wake-up is harmless.
    """

    async def woken() -> None:
        # shutting down cancels a turn halfway, which the library would log as a fault of ours
        with suppress(CancelledError):
            await turn()

    alarm = AsyncIOScheduler(timezone="UTC")
    alarm.add_job(
        woken,
        IntervalTrigger(seconds=every.total_seconds()),
        id="turn",
        coalesce=True,
        max_instances=1,
        misfire_grace_time=None,
    )
    alarm.start()
    return alarm
