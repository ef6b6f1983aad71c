"""Those who stand in for a class: they get its digest and its warning signs, and no more."""

from datetime import datetime, timedelta

from bot.desk.letters import Errand, say
from bot.desk.voice import speech_to
from bot.storage import groups, substitutes
from bot.storage.alerts import StoredAlert
from bot.storage.database import Transaction
from bot.storage.outbox import Kind, Priority
from bot.storage.people import Person, people_by_id
from bot.storage.sessions import Session
from bot.words.entrusting import warning_for_substitute
from core.alert import AlertKind

AROUND = timedelta(hours=1)
"""Before and after a class, in which a warning sign concerns whoever stands in for it."""


async def readers_of(tx: Transaction, session: Session) -> tuple[Person, ...]:
    """Who gets the digest of a class: the group's instructors, and who stands in for them."""
    leaders = await groups.leaders(tx, session.group_id)
    return (*leaders, *await substitutes.substitutes(tx, session.id))


async def may_read(tx: Transaction, session: Session, person: Person, now: datetime) -> bool:
    """Whether this person may see the digest of that class now."""
    if await groups.leads(tx, person, session.group_id):
        return True
    stands_in = await substitutes.sessions_stood_in(tx, person, now)
    return session.id in {each.id for each in stands_in}


async def warn_substitutes(tx: Transaction, alert: StoredAlert, now: datetime) -> None:
    """Tell them of a warning sign that belongs to their class, or comes while it is on."""
    if alert.fact.kind is not AlertKind.WARNING or alert.resolved_at is not None:
        return
    symptom = alert.fact.symptom
    session = None if symptom is None else symptom.session
    standing_in = await substitutes.on_duty(tx, alert.group_id, session, now - AROUND, now + AROUND)
    if not standing_in:
        return
    group = await groups.group(tx, alert.group_id)
    known = await people_by_id(tx, alert.group_id)
    for person in standing_in:
        message = warning_for_substitute(
            speech_to(person), known[alert.fact.member].name, group.name
        )
        errand = Errand(
            id=f"warning/{alert.id}/{person.id}", priority=Priority.URGENT, kind=Kind.ALERT
        )
        await say(tx, person.account, message, errand, now)
