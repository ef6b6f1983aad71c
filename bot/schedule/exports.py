"""Exports that a kill has interrupted are begun anew; what was sent isn't sent twice."""

import logging
from datetime import datetime, timedelta

from bot.desk.group_export import send_group_export
from bot.storage.database import Database
from bot.storage.exports import end_export, waiting_exports

LOG = logging.getLogger(__name__)

OVERDUE = timedelta(minutes=2)
"""An export is written right after it was asked for; one that waits longer was interrupted."""


async def send_waiting_exports(database: Database, now: datetime) -> None:
    """One that fails again is given up: whoever wants it asks for it once more."""
    async with database.transaction() as tx:
        waiting = await waiting_exports(tx, now - OVERDUE)
    for export in waiting:
        try:
            await send_group_export(database, export, now)
        except Exception:
            LOG.exception("an export failed")
            async with database.transaction() as tx:
                await end_export(tx, export.id, now)
