"""What takes a while is worked out in a thread first, or done in small pieces."""

import logging
from datetime import datetime

from bot.desk import opening
from bot.desk.advice import Known, advise_on, read_known
from bot.desk.beliefs import believe
from bot.schedule.waiting import had_better_wait
from bot.storage import dues, sessions
from bot.storage.database import Database, Transaction
from bot.storage.dues import Due, Occasion
from bot.storage.people import Person
from bot.tasks import aside

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

    async def read(tx: Transaction) -> Known | None:
        session = await sessions.find_session(tx, due.session_id)
        return None if session is None or now > due.not_after else await read_known(tx, session)

    known = await database.read(read)
    if known is not None:
        await aside(_believe, known)


def _believe(known: Known) -> None:
    reports = known.stored.reports()
    believe(known.plan.plan, reports, known.members, known.session.local_day)


async def _ask(database: Database, due: Due, now: datetime) -> None:
    """Ask a few at a time, so that whoever has been asked can answer while others still are."""

    async def read(tx: Transaction) -> tuple[tuple[Person, ...], Known | None]:
        people = await _to_ask(tx, due, now)
        session = await sessions.find_session(tx, due.session_id)
        return people, None if session is None or not people else await read_known(tx, session)

    people, known = await database.read(read)
    if known is None:
        return
    ready = await aside(advise_on, known)
    for first in range(0, len(people), opening.A_FEW):
        these = people[first : first + opening.A_FEW]
        async with database.transaction(patient=True) as tx:
            if not await dues.is_due(tx, due, now):
                return
            await opening.open_prompts(tx, known.session, these, now, due.not_after, ready)


async def _to_ask(tx: Transaction, due: Due, now: datetime) -> tuple[Person, ...]:
    """Nobody, if it's too late or had better wait."""
    session = await sessions.find_session(tx, due.session_id)
    if session is None or session.cancelled or now > due.not_after:
        return ()
    if await had_better_wait(tx, due, session, now):
        return ()
    return await opening.not_asked(tx, session, now)
