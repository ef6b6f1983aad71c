"""/variant: what I do next class, and why."""

from bot.chat.visit import Visit
from bot.desk.advice import told
from bot.desk.calendar import plan_of
from bot.storage import members, sessions, symptoms
from bot.storage.groups import Group
from bot.storage.people import Person
from bot.words import variant as words
from bot.words.joining import STRANGER
from core.reports import SymptomKind


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
    plan = await plan_of(visit.tx, session.plan_id)
    held = [
        (each.id, each.fact.movement)
        for each in await symptoms.symptoms_of_group(visit.tx, group.id, person.id)
        if each.fact.kind is not SymptomKind.SORENESS and each.fact.cleared_by_member is None
    ]
    await visit.say(
        words.variant_message(
            visit.speech,
            group=group.name,
            group_id=group.id,
            when=visit.speech.moment(session.starts_at, plan.timezone),
            plan=plan.plan,
            told=await told(visit.tx, session, person),
            symptoms=held,
            running=session.id if session.starts_at <= visit.now else None,
        )
    )
