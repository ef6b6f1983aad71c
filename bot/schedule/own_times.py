"""Members whose own time has come are asked and reminded, each in a transaction."""

import logging
from datetime import datetime

from bot.desk import prompts
from bot.desk.advice import Known, Ready, advise_on, read_known
from bot.storage import sessions
from bot.storage.askings import askings_now
from bot.storage.database import Database, Transaction
from bot.storage.dues import Occasion
from bot.tasks import aside

LOG = logging.getLogger(__name__)


async def ask_members(database: Database, now: datetime) -> None:
    """One that fails stops no other, and is tried again with the next turn."""
    async with database.transaction(patient=True) as tx:
        waiting = await askings_now(tx, now)
    ready: dict[str, Ready] = {}
    for asking in waiting:
        try:
            if asking.occasion is Occasion.PROMPT and asking.session_id not in ready:
                ready[asking.session_id] = await _make_ready(database, asking.session_id)
            async with database.transaction(patient=True) as tx:
                await prompts.ask_one(tx, asking, now, ready.get(asking.session_id))
        except Exception:
            LOG.exception("%s of session %s failed", asking.occasion, asking.session_id)


async def _make_ready(database: Database, session_id: str) -> Ready:
    """Once for all who are asked about the same class now, and while nobody waits."""

    async def known(tx: Transaction) -> Known:
        return await read_known(tx, await sessions.session(tx, session_id))

    return await aside(advise_on, await database.read(known))
