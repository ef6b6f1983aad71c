"""What takes a while is worked out in a thread before anything is written, or in small pieces."""

import asyncio
import logging
from datetime import datetime

from bot.desk import opening
from bot.desk.advice import Known, advise_on, read_known
from bot.desk.beliefs import believe
from bot.schedule.waiting import had_better_wait
from bot.storage import dues, sessions
from bot.storage.database import Database, Transaction
from bot.storage.dues import Due, Occasion

LOG = logging.getLogger(__name__)


async def do_ahead(database: Database, due: Due, now: datetime) -> None:
    """Only a head start: if it fails, or something is said meanwhile, it is done in its time."""
    try:
        match due.occasion:
            case Occasion.DIGEST:
                await _learn(database, due, now)
            case Occasion.PROMPT:
                await _ask(database, due, now)
            case Occasion.REMINDER:
                pass
    except Exception:
        LOG.exception("%s of session %s could not be begun ahead", due.occasion, due.session_id)


async def _learn(database: Database, due: Due, now: datetime) -> None:
    """What a digest says is made from a belief, which is kept."""
    async with database.transaction() as tx:
        session = await sessions.find_session(tx, due.session_id)
        known = None
        if session is not None and now <= due.not_after:
            known = await read_known(tx, session)
    if known is not None:
        await asyncio.to_thread(_believe, known)


def _believe(known: Known) -> None:
    reports = known.stored.reports().settled()
    believe(known.plan.plan, reports, known.members, known.session.local_day)


async def _ask(database: Database, due: Due, now: datetime) -> None:
    """Ask a few at a time, so that whoever has been asked can answer while others still are."""
    async with database.transaction() as tx:
        known = await _known(tx, due, now)
    if known is None:
        return
    ready = await asyncio.to_thread(advise_on, known)
    asked = True
    while asked:
        async with database.transaction() as tx:
            asked = await dues.is_due(tx, due, now) and await opening.open_prompts(
                tx, known.session, now, due.not_after, ready, opening.A_FEW
            )


async def _known(tx: Transaction, due: Due, now: datetime) -> Known | None:
    """What the questions are made from; None if nobody is to be asked now."""
    session = await sessions.find_session(tx, due.session_id)
    if session is None or session.cancelled or now > due.not_after:
        return None
    if await had_better_wait(tx, due, session, now):
        return None
    return await opening.known_of(tx, session, now)
