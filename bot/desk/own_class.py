"""The next class as one member is told it, wherever they ask for it."""

from datetime import datetime

from bot.desk.advice import told
from bot.desk.calendar import plan_of
from bot.desk.voice import speech_to
from bot.storage import symptoms
from bot.storage.database import Transaction
from bot.storage.groups import Group
from bot.storage.people import Person
from bot.storage.sessions import Session
from bot.words import variant as words
from bot.words.message import Message
from core.reports import SymptomKind


async def own_class(
    tx: Transaction, person: Person, group: Group, session: Session, now: datetime
) -> Message:
    """What they do in that class and why, with what they may say about it while it is on."""
    plan, speech = await plan_of(tx, session.plan_id), speech_to(person)
    held = [
        (each.id, each.fact.movement)
        for each in await symptoms.symptoms_of_group(tx, group.id, person.id)
        if each.fact.kind is not SymptomKind.SORENESS and each.fact.cleared_by_member is None
    ]
    return words.variant_message(
        speech,
        group=group.name,
        group_id=group.id,
        when=speech.moment(session.starts_at, plan.timezone),
        plan=plan.plan,
        told=await told(tx, session, person),
        symptoms=held,
        running=session.id if session.starts_at <= now else None,
    )
