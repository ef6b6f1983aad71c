"""/variant: what I do next class, and why."""

from bot.chat.visit import Visit
from bot.desk.own_class import own_class
from bot.storage import members, sessions
from bot.storage.groups import Group
from bot.storage.people import Person
from bot.words import variant as words
from bot.words.joining import STRANGER


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
    await visit.say(await own_class(visit.tx, person, group, session, visit.now))
