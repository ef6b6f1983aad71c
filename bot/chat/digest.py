"""/digest: the next class of every group I lead, and every class that I stand in for."""

from telegram import Update

from bot.chat.visit import Rooms, Visit
from bot.desk.digests import digest_of
from bot.desk.letters import Errand
from bot.desk.overview import Sheet, draw_overview, overview_facts
from bot.desk.showing import show
from bot.desk.voice import speech_to
from bot.storage import groups, people, sessions
from bot.storage.sessions import Session
from bot.storage.substitutes import sessions_stood_in
from bot.words import digest as words
from bot.words.joining import STRANGER
from bot.words.variant import NO_CLASS


async def fetch(rooms: Rooms, update: Update) -> object:
    """The pictures of the next classes, by session; drawn before the transaction of the visit."""
    account, now = update.effective_user, rooms.now()
    if account is None:
        return {}
    async with rooms.database.transaction() as tx:
        person = await people.person_of_account(tx, account.id)
        if person is None:
            return {}
        coming = [
            await sessions.next_session(tx, group.id, now)
            for group in await groups.groups_led_by(tx, person)
        ]
        coming += await sessions_stood_in(tx, person, now)
        found = [await overview_facts(tx, each) for each in coming if each is not None]
    return {
        facts.session.id: await draw_overview(facts, speech_to(person))
        for facts in found
        if facts is not None
    }


async def digest(visit: Visit) -> None:
    """What the digest says now, and then its picture; it changes nothing."""
    if visit.person is None:
        await visit.say(STRANGER(visit.speech))
        return
    led = await groups.groups_led_by(visit.tx, visit.person)
    stood_in = await sessions_stood_in(visit.tx, visit.person, visit.now)
    if not led and not stood_in:
        await visit.say(words.NO_GROUP(visit.speech))
    drawn = visit.brought if isinstance(visit.brought, dict) else {}
    shown: set[str] = set()
    for group in led:
        session = await sessions.next_session(visit.tx, group.id, visit.now)
        if session is None:
            await visit.say(NO_CLASS(visit.speech))
        else:
            shown.add(session.id)
            await _one_class(visit, session, drawn)
    for session in stood_in:
        if session.id not in shown:
            await _one_class(visit, session, drawn)


async def _one_class(
    visit: Visit, session: Session, drawn: dict[str, tuple[Sheet, ...]]
) -> None:
    for message in await digest_of(visit.tx, session, visit.speech, visit.now):
        await visit.say(message)
    for at, sheet in enumerate(drawn.get(session.id, ())):
        errand = Errand(id=f"reply/{visit.update_id}/picture/{session.id}/{at}")
        await show(visit.tx, visit.account, sheet.picture, sheet.caption, errand, visit.now)
