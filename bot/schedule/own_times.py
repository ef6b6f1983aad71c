"""Members whose own time has come are asked and reminded, each in a transaction."""

import logging
from datetime import datetime

from bot.desk import prompts
from bot.storage.askings import askings_now
from bot.storage.database import Database

LOG = logging.getLogger(__name__)


async def ask_members(database: Database, now: datetime) -> None:
    """One that fails stops no other, and is tried again with the next turn."""
    async with database.transaction() as tx:
        waiting = await askings_now(tx, now)
    for asking in waiting:
        try:
            async with database.transaction() as tx:
                await prompts.ask_one(tx, asking, now)
        except Exception:
            LOG.exception("%s of session %s failed", asking.occasion, asking.session_id)
