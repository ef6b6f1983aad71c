"""One turn of the calendar: do what is due by now, and drop what is too late to help."""

import logging
from datetime import datetime

from bot.desk import digests, prompts
from bot.schedule.housekeeping import keep_house
from bot.storage import sessions
from bot.storage.database import Database, Transaction
from bot.storage.sessions import Due, Occasion

LOG = logging.getLogger(__name__)


async def take_turn(database: Database, now: datetime) -> None:
    """Each due thing in a transaction of its own, so that one that fails stops no other."""
    await keep_house(database, now)
    async with database.transaction() as tx:
        waiting = await sessions.due_now(tx, now)
    for due in waiting:
        try:
            async with database.transaction() as tx:
                await _do(tx, due, now)
        except Exception:
            LOG.exception("%s of session %s failed", due.occasion, due.session_id)


async def _do(tx: Transaction, due: Due, now: datetime) -> None:
    """Do it and mark it as done in one transaction: a night of downtime is one long turn."""
    session = await sessions.session(tx, due.session_id)
    too_late = session.cancelled or now > due.not_after
    if not too_late:
        match due.occasion:
            case Occasion.DIGEST:
                await digests.send_digest(tx, session, now)
            case Occasion.PROMPT:
                await prompts.open_prompts(tx, session, now, due.not_after)
            case Occasion.REMINDER:
                await prompts.remind(tx, session, now, due.not_after)
    await sessions.end_due(tx, due, now, dropped=too_late)
    LOG.info("%s of session %s: %s", due.occasion, session.id, "dropped" if too_late else "done")
