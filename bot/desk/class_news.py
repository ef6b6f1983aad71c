"""Changed classes are told to whoever else leads them, and to members when that is wanted."""

from datetime import datetime

from bot.desk.calendar import plan_of
from bot.desk.class_facts import EXTRA, slot_start
from bot.desk.letters import Errand, say
from bot.desk.substitutes import readers_of
from bot.desk.voice import speech_to
from bot.storage import groups
from bot.storage.database import Transaction
from bot.storage.members import members
from bot.storage.outbox import Kind, Priority
from bot.storage.pauses import paused_members
from bot.storage.people import Person
from bot.storage.sessions import Session
from bot.words.class_news import News, news_for_instructors, news_for_members


async def tell_instructors(
    tx: Transaction,
    session: Session,
    news: News,
    by: Person,
    reason: str,
    now: datetime,
    *,
    before: datetime | None = None,
) -> None:
    """Tell the others who lead this class what one of them has done; `before` is its old start."""
    group = await groups.group(tx, session.group_id)
    zone = (await plan_of(tx, session.plan_id)).timezone
    for reader in await readers_of(tx, session):
        if reader.id == by.id:
            continue
        speech = speech_to(reader)
        message = news_for_instructors(
            speech,
            news,
            name=by.name,
            group=group.name,
            when=speech.moment(session.starts_at, zone),
            before=speech.moment(before or session.starts_at, zone),
        )
        errand = Errand(
            id=f"class/{session.id}/{reader.id}/{reason}",
            priority=Priority.INTERACTIVE,
            kind=Kind.ALERT,
        )
        await say(tx, reader.account, message, errand, now)


async def tell_members(tx: Transaction, session: Session, now: datetime) -> int:
    """Tell the members how a class is now, each once; says how many hear it now.

    Whoever is on pause wants to be left in peace.
    """
    group = await groups.group(tx, session.group_id)
    plan = await plan_of(tx, session.plan_id)
    away = await paused_members(tx, session.group_id, now)
    news, told = news_of(session), 0
    for person in await members(tx, session.group_id):
        if person.id in away:
            continue
        speech = speech_to(person)
        message = news_for_members(
            speech,
            news,
            group=group.name,
            when=speech.moment(session.starts_at, plan.timezone),
            before=speech.moment(slot_start(session, plan), plan.timezone),
        )
        errand = Errand(
            id=f"news/{session.id}/{person.id}/{news.name}/{session.starts_at:%Y%m%d%H%M}",
            priority=Priority.DIGEST,
            kind=Kind.DIGEST,
            not_after=max(session.starts_at, now),
        )
        told += await say(tx, person.account, message, errand, now)
    return told


def news_of(session: Session) -> News:
    """What there is to say about a class."""
    if session.cancelled:
        return News.CANCELLED
    if session.slot.startswith(EXTRA):
        return News.ADDED
    return News.MOVED if session.moved else News.ON
