"""After an erasure: what is left of it in unused places of the file is overwritten."""

import logging
from datetime import datetime

from bot.storage.database import Database
from bot.storage.erased import mark_swept, ready_to_sweep

LOG = logging.getLogger(__name__)


async def sweep(database: Database, now: datetime) -> None:
    """Do it once the receipt has gone; a reader in the way, such as a backup, puts it off."""
    try:
        async with database.transaction() as tx:
            ready = await ready_to_sweep(tx)
        if ready and await database.sweep():
            async with database.transaction() as tx:
                await mark_swept(tx, now)
            LOG.info("what was erased has left no trace")
    except Exception:
        LOG.exception("sweeping failed")
