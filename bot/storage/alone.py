"""The database for the one process that runs the bot: locked, mended if need be, and opened."""

from collections.abc import AsyncGenerator
from contextlib import asynccontextmanager
from pathlib import Path

from bot.clock import Clock
from bot.place import Place
from bot.storage.backup import finish_restoring
from bot.storage.database import Database, open_database
from bot.storage.lock import hold_lock


@asynccontextmanager
async def open_alone(place: Place, clock: Clock | None = None) -> AsyncGenerator[Database]:
    """What `open_database` does, for one process at a time; AlreadyRunning for all others."""
    if isinstance(place, Path):
        with hold_lock(place):
            finish_restoring(place)
            async with open_database(place, clock) as database:
                yield database
    else:
        async with open_database(place, clock) as database:  # which a server gives to one alone
            yield database
