"""Urgent alerts that nobody has seen come once more, each in a transaction of its own."""

import logging
from datetime import datetime

from bot.desk.alerts import repeat_alert
from bot.storage.alerts import alerts_to_repeat
from bot.storage.database import Database

LOG = logging.getLogger(__name__)


async def repeat_alerts(database: Database, now: datetime) -> None:
    """One that fails stops no other, and is tried again with the next turn."""
    async with database.transaction() as tx:
        waiting = await alerts_to_repeat(tx, now)
    for stored in waiting:
        try:
            async with database.transaction() as tx:
                await repeat_alert(tx, stored, now)
        except Exception:
            LOG.exception("alert %s could not be repeated", stored.id)
