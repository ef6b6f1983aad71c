"""The picture that follows a digest: drawn between two transactions, so that nobody waits."""

from datetime import datetime, timedelta

from bot.desk.digest_facts import Facts, digest_facts, work_out
from bot.desk.letters import Errand
from bot.desk.overview import draw_overviews
from bot.desk.showing import show
from bot.desk.substitutes import readers_of
from bot.desk.voice import speech_to
from bot.storage.database import Database, Transaction
from bot.storage.outbox import Kind, Priority
from bot.storage.overviews import sessions_without_picture
from bot.storage.people import Person
from bot.storage.sessions import Session
from bot.tasks import aside

USEFUL = timedelta(minutes=10)
"""How long after its digest a picture is still drawn, if it could not be at once."""


async def send_overviews(database: Database, now: datetime) -> None:
    """Draw and send what is missing; killed halfway, the next turn finds it missing still."""
    async with database.transaction() as tx:
        waiting = await sessions_without_picture(tx, now, now - USEFUL)
    for session in waiting:
        await _send(database, session, now)


async def _send(database: Database, session: Session, now: datetime) -> None:
    async def read(tx: Transaction) -> tuple[Facts, tuple[Person, ...]]:
        return await digest_facts(tx, session, now), await readers_of(tx, session)

    facts, readers = await database.read(read)
    speeches = {speech.language: speech for speech in map(speech_to, readers)}
    worked = await aside(work_out, facts)
    drawn = await draw_overviews(worked, tuple(speeches.values()))
    async with database.transaction() as tx:
        for reader in await readers_of(tx, session):
            for at, sheet in enumerate(drawn.get(speech_to(reader).language, ())):
                errand = _errand(session, reader, at)
                await show(tx, reader.account, sheet.picture, sheet.caption, errand, now)


def _errand(session: Session, reader: Person, sheet: int) -> Errand:
    return Errand(
        id=f"picture/{session.id}/{reader.id}/{sheet}",
        priority=Priority.DIGEST,
        kind=Kind.DIGEST,
        not_after=session.ends_at,
    )
