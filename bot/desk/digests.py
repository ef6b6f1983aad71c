"""The digest of a session: put together from everything that is known, and put into words."""

from datetime import datetime

from bot.desk.advice import as_told, freeze, work_out
from bot.desk.letters import Errand, say
from bot.desk.substitutes import readers_of
from bot.storage import alerts, groups, sessions
from bot.storage.database import Transaction
from bot.storage.outbox import Kind, Priority
from bot.storage.pauses import paused_members
from bot.storage.people import people_by_id
from bot.storage.sessions import Session
from bot.words.digest import NOBODY, digest_messages
from bot.words.message import Message
from bot.words.speech import Speech, speech_for
from core.digest import prepare_digest


async def send_digest(tx: Transaction, session: Session, now: datetime) -> None:
    """Freeze what everyone does in that class, and send the digest to whoever leads it."""
    _, _, _, advice = await work_out(tx, session)
    await freeze(tx, session, advice, now)
    for leader in await readers_of(tx, session):
        messages = await digest_of(tx, session, speech_for(leader.language), now)
        for page, message in enumerate(messages):
            errand = Errand(
                id=f"digest/{session.id}/{leader.id}/{page}",
                priority=Priority.DIGEST,
                kind=Kind.DIGEST,
                not_after=session.ends_at,
            )
            await say(tx, leader.account, message, errand, now)


async def digest_of(
    tx: Transaction, session: Session, speech: Speech, now: datetime
) -> tuple[Message, ...]:
    """What the instructors read before that class."""
    plan, reports, people, advice = await work_out(tx, session)
    if not people:
        return (NOBODY(speech),)
    before = await sessions.session_before(tx, session)
    open_alerts = await alerts.unresolved_alerts(tx, session.group_id)
    present = {person.id for person in people}
    digest = prepare_digest(
        plan.plan,
        await as_told(tx, session, plan.plan, advice),
        reports,
        tuple(each.fact for each in open_alerts if each.fact.member in present),
        members=tuple(person.id for person in people),
        on=session.local_day,
        last=None if before is None else before.local_day,
        paused=await paused_members(tx, session.group_id, now),
    )
    known = await people_by_id(tx, session.group_id)
    group = await groups.group(tx, session.group_id)
    return digest_messages(
        speech,
        digest,
        plan.plan,
        group=group.name,
        when=speech.moment(session.starts_at, plan.timezone),
        names={person_id: person.name for person_id, person in known.items()},
    )
