"""Who leads a group, and how that changes: links to lead, handing over, leaving."""

from datetime import datetime, timedelta

from bot.desk.calendar import plan_of
from bot.luck import fingerprint, new_code
from bot.storage import entrusting, groups, sessions, substitutes
from bot.storage.database import Transaction
from bot.storage.entrusting import Entrusting
from bot.storage.groups import Group
from bot.storage.people import Person, people_by_id
from bot.storage.sessions import Session
from bot.words.leading import Leading, OpenLink, StandIn
from bot.words.speech import Speech
from core.roster import Trust

LASTS = timedelta(days=3)
"""For a link to lead a group; one for a substitute lasts until their class is over."""


async def leading_of(tx: Transaction, group: Group, speech: Speech, now: datetime) -> Leading:
    """Who leads a group, who stands in, and which links are open."""
    zone = (await plan_of(tx, group.plan_id)).timezone
    known = await people_by_id(tx, group.id)
    leaders = await groups.leaders(tx, group.id)
    links = await entrusting.open_links(tx, group.id, now)
    standing_in = await substitutes.substitutes_of_group(tx, group.id, now)
    return Leading(
        group_id=group.id,
        group=group.name,
        instructors=tuple(known[each.id].name for each in leaders),
        links=tuple(
            [
                OpenLink(
                    id=each.id,
                    trust=each.trust,
                    until=speech.moment(each.expires_at, zone),
                    when=await when_of(tx, each, speech),
                )
                for each in links
            ]
        ),
        stand_ins=tuple(
            StandIn(
                id=each.id,
                name=each.person.name,
                when=speech.moment(each.session.starts_at, zone),
            )
            for each in standing_in
        ),
    )


async def when_of(tx: Transaction, link: Entrusting, speech: Speech) -> str:
    """When the class is that a link is for; empty if it is for a whole group, or is gone."""
    session = None
    if link.session_id is not None:
        session = await sessions.find_session(tx, link.session_id)
    return "" if session is None else await moment_of(tx, session, speech)


async def moment_of(tx: Transaction, session: Session, speech: Speech) -> str:
    """When a class is, on its own clock."""
    plan = await plan_of(tx, session.plan_id)
    return speech.moment(session.starts_at, plan.timezone)


async def new_trust(
    tx: Transaction,
    group: Group,
    giver: Person,
    trust: Trust,
    now: datetime,
    session: Session | None = None,
) -> tuple[str, datetime]:
    """A code that lets one person lead, and until when."""
    code, until = new_code(), now + LASTS if session is None else session.ends_at
    await entrusting.entrust(
        tx,
        group_id=group.id,
        given_by=giver.id,
        trust=trust,
        session_id=None if session is None else session.id,
        fingerprint=fingerprint(code),
        now=now,
        until=until,
    )
    return code, until


async def take_up(tx: Transaction, link: Entrusting, person: Person, now: datetime) -> None:
    """Let this person do what the link is for; it opens nothing after that."""
    await entrusting.use_link(tx, link.id, now)
    if link.trust is Trust.SESSION and link.session_id is not None:
        await substitutes.put_substitute(tx, link.session_id, person.id, now)
        return
    await groups.add_leader(tx, link.group_id, person.id, now)
    if link.trust is Trust.HANDOVER and link.given_by != person.id:
        await groups.remove_leader(tx, link.group_id, link.given_by)
