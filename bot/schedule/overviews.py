"""The picture that follows a digest: drawn between two transactions, so that nobody waits."""

from datetime import datetime, timedelta

from bot.desk.letters import Errand
from bot.desk.overview import draw_overview, overview_facts
from bot.desk.showing import show
from bot.desk.substitutes import readers_of
from bot.desk.voice import speech_to
from bot.storage.database import Database
from bot.storage.outbox import Kind, Priority
from bot.storage.overviews import sessions_without_picture
from bot.storage.people import Person
from bot.storage.sessions import Session

USEFUL = timedelta(minutes=10)
"""How long after its digest a picture is still drawn, if it could not be at once."""


async def send_overviews(database: Database, now: datetime) -> None:
    """Draw and send what is missing; killed halfway, the next turn finds it missing still."""
    async with database.transaction() as tx:
        waiting = await sessions_without_picture(tx, now, now - USEFUL)
    for session in waiting:
        await _send(database, session, now)


async def _send(database: Database, session: Session, now: datetime) -> None:
    async with database.transaction() as tx:
        facts = await overview_facts(tx, session)
        leaders = await readers_of(tx, session)
    if facts is None:
        return
    drawn = [(leader, await draw_overview(facts, speech_to(leader))) for leader in leaders]
    async with database.transaction() as tx:
        still = {leader.id for leader in await readers_of(tx, session)}
        for leader, sheets in drawn:
            for at, sheet in enumerate(sheets if leader.id in still else ()):
                errand = _errand(session, leader, at)
                await show(tx, leader.account, sheet.picture, sheet.caption, errand, now)


def _errand(session: Session, leader: Person, sheet: int) -> Errand:
    return Errand(
        id=f"picture/{session.id}/{leader.id}/{sheet}",
        priority=Priority.DIGEST,
        kind=Kind.DIGEST,
        not_after=session.ends_at,
    )
