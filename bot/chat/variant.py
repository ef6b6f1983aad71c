"""/variant: what I do next class, and why."""

from datetime import datetime

from telegram import Update

from bot.chat.visit import Rooms, Visit
from bot.desk.advice import Known, Ready, advise_on, read_known
from bot.desk.own_class import own_class
from bot.storage import members, people, sessions
from bot.storage.advice import kept_advice
from bot.storage.database import Transaction
from bot.storage.groups import Group
from bot.storage.people import Person
from bot.tasks import aside
from bot.words import variant as words
from bot.words.joining import STRANGER


async def fetch(rooms: Rooms, update: Update) -> object:
    """What isn't frozen yet, by session; worked out before the transaction of the visit."""
    account = update.effective_user
    if account is None:
        return {}
    known = await rooms.database.read(lambda tx: _not_frozen(tx, account.id, rooms.now()))
    return {each.session.id: await aside(advise_on, each) for each in known}


async def _not_frozen(tx: Transaction, account: int, now: datetime) -> list[Known]:
    known: list[Known] = []
    person = await people.person_of_account(tx, account)
    for group in () if person is None else await members.groups_of(tx, person):
        session = await sessions.next_session(tx, group.id, now)
        if session is None or person is None:
            continue
        if await kept_advice(tx, session.id, person.id) is None:
            known.append(await read_known(tx, session))
    return known


async def variant(visit: Visit) -> None:
    """One message for each group that this member takes part in."""
    if visit.person is None:
        await visit.say(STRANGER(visit.speech))
        return
    mine = await members.groups_of(visit.tx, visit.person)
    if not mine:
        await visit.say(words.NOT_A_MEMBER(visit.speech))
    for group in mine:
        await _variant(visit, visit.person, group)


async def _variant(visit: Visit, person: Person, group: Group) -> None:
    session = await sessions.next_session(visit.tx, group.id, visit.now)
    if session is None:
        await visit.say(words.NO_CLASS(visit.speech))
        return
    brought = visit.brought.get(session.id) if isinstance(visit.brought, dict) else None
    ready = brought if isinstance(brought, Ready) else None
    await visit.say(await own_class(visit.tx, person, group, session, visit.now, ready))
