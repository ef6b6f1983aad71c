"""Classes are summed up once everyone has answered, or by the next morning."""

import logging
from datetime import datetime

from bot.desk.summary import (
    changes_by_answers,
    plan_summaries,
    send_summary,
    summaries_now,
    summary_facts,
)
from bot.storage.database import Database
from bot.storage.sessions import Session
from bot.tasks import aside

LOG = logging.getLogger(__name__)


async def send_summaries(database: Database, now: datetime) -> None:
    """One that fails stops no other; killed halfway, the next turn finds it due still."""
    async with database.transaction() as tx:
        await plan_summaries(tx, now)
        waiting = await summaries_now(tx, now)
    for session in waiting:
        try:
            await _send(database, session, now)
        except Exception:
            LOG.exception("session %s could not be summed up", session.id)


async def _send(database: Database, session: Session, now: datetime) -> None:
    facts = await database.read(lambda tx: summary_facts(tx, session))
    changes = await aside(changes_by_answers, facts)  # nobody waits for it
    async with database.transaction() as tx:
        await send_summary(tx, facts, changes, now)
