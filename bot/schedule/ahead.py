"""What is slow to learn is learned before a digest's transaction."""

import asyncio
import logging
from datetime import datetime

from bot.desk.beliefs import believe
from bot.desk.digest_facts import digest_facts
from bot.storage import sessions
from bot.storage.database import Database
from bot.storage.dues import Due, Occasion

LOG = logging.getLogger(__name__)


async def learn_ahead(database: Database, due: Due, now: datetime) -> None:
    """Only a head start: if it fails, or something is said meanwhile, it is learned in its time."""
    if due.occasion is not Occasion.DIGEST or now > due.not_after:
        return
    try:
        async with database.transaction() as tx:
            session = await sessions.find_session(tx, due.session_id)
            facts = None if session is None else await digest_facts(tx, session, now)
        if facts is not None:
            members = tuple(person.id for person in facts.people)
            on = facts.session.local_day
            await asyncio.to_thread(believe, facts.plan.plan, facts.reports, members, on)
    except Exception:
        LOG.exception("the digest of session %s could not be learned ahead", due.session_id)
