"""The digest of a session: sent when its time has come, and put into words for each reader."""

from dataclasses import replace
from datetime import datetime

from bot.desk.advice import freeze
from bot.desk.alerts import watch_group
from bot.desk.digest_facts import WorkedOut, alerts_now, digest_facts, work_out
from bot.desk.letters import Errand, say
from bot.desk.substitutes import readers_of
from bot.storage import groups
from bot.storage.database import Transaction
from bot.storage.outbox import Kind, Priority
from bot.storage.sessions import Session
from bot.words.digest import NOBODY, Heading, digest_messages
from bot.words.message import Message
from bot.words.speech import Speech, speech_for


async def send_digest(
    tx: Transaction, session: Session, now: datetime, *, again: str | None = None
) -> None:
    """Freeze what everyone does in that class, and send the digest to its instructors.

    Time has passed since the last answer, so who is quiet is found now. `again` names why it is
    sent once more.
    """
    facts = await digest_facts(tx, session, now)
    await watch_group(tx, session.group_id, facts.reports, f"digest/{session.id}", now)
    worked = work_out(replace(facts, alerts=await alerts_now(tx, facts)))
    await freeze(tx, session, worked.fresh, now)
    leading = {each.id for each in await groups.leaders(tx, session.group_id)}
    for reader in await readers_of(tx, session):
        speech = speech_for(reader.language)
        for page, message in enumerate(messages(worked, speech, leads=reader.id in leading)):
            errand = Errand(
                id=f"digest/{session.id}/{reader.id}/{page}{f'/{again}' if again else ''}",
                priority=Priority.DIGEST,
                kind=Kind.DIGEST,
                not_after=session.ends_at,
            )
            await say(tx, reader.account, message, errand, now)


def messages(worked: WorkedOut, speech: Speech, *, leads: bool = True) -> tuple[Message, ...]:
    """What one reader reads before that class; `leads` is false for who stands in."""
    facts = worked.facts
    if worked.digest is None:
        return (NOBODY(speech),)
    heading = Heading(
        group=facts.group.name,
        group_id=facts.group.id,
        session_id=facts.session.id,
        when=speech.moment(facts.session.starts_at, facts.plan.timezone),
        leads=leads,
    )
    return digest_messages(speech, worked.digest, heading, facts.names)
