"""The copy of a database from before its upgrade, in case the old program is wanted back."""

import asyncio
from datetime import UTC, datetime, timedelta
from pathlib import Path

from bot.storage.copying import copy
from bot.storage.upgrade import Upgradable, missing_in

KEEP = timedelta(days=7)
"""Not longer, since whoever is erased meanwhile is still in there."""


def copy_of(database: Path) -> Path:
    """Where the copy lies."""
    return database.with_name(database.name + ".before-upgrade")


async def keep_before_upgrade(engine: Upgradable, database: Path) -> None:
    """Copy the file if it's about to be changed; a new one holds nothing to keep."""
    if await missing_in(engine):
        await asyncio.to_thread(copy, database, copy_of(database))


def forget_before_upgrade(database: Path, now: datetime) -> bool:
    """Remove the copy once it's old; true if it was."""
    kept = copy_of(database)
    if not kept.exists() or now - datetime.fromtimestamp(kept.stat().st_mtime, UTC) < KEEP:
        return False
    kept.unlink(missing_ok=True)
    return True
