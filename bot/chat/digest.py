"""/digest: the next class of every group I lead, and every class that I stand in for."""

from dataclasses import dataclass
from datetime import datetime

from telegram import Update

from bot.chat.visit import Rooms, Visit
from bot.desk.digest_facts import Facts, WorkedOut, digest_facts, work_out
from bot.desk.digests import messages
from bot.desk.letters import Errand
from bot.desk.overview import Sheet, draw_overviews
from bot.desk.showing import show
from bot.desk.voice import speech_to
from bot.storage import groups, people, sessions
from bot.storage.database import Transaction
from bot.storage.people import Person
from bot.storage.sessions import Session
from bot.storage.substitutes import sessions_stood_in
from bot.tasks import aside
from bot.words import digest as words
from bot.words.joining import STRANGER
from bot.words.message import Message
from bot.words.speech import Speech
from bot.words.variant import NO_CLASS


@dataclass(frozen=True, slots=True, kw_only=True)
class Read:
    """A digest as its reader gets it."""

    session: str
    messages: tuple[Message, ...]
    sheets: tuple[Sheet, ...]


async def fetch(rooms: Rooms, update: Update) -> object:
    """The digests of the next classes; worked out and drawn before the transaction of the visit."""
    account, now = update.effective_user, rooms.now()
    if account is None:
        return ()
    asked = await rooms.database.read(lambda tx: _asked(tx, account.id, now))
    if asked is None:
        return ()
    speech, led, found = asked
    worked = [await aside(work_out, facts) for facts in found]
    return tuple([await _read(each, speech, led) for each in worked])


async def digest(visit: Visit) -> None:
    """What the digest says now, and then its picture; it changes nothing."""
    if visit.person is None:
        await visit.say(STRANGER(visit.speech))
        return
    led = await groups.groups_led_by(visit.tx, visit.person)
    brought = visit.brought if isinstance(visit.brought, tuple) else ()
    if not led and not brought:
        await visit.say(words.NO_GROUP(visit.speech))
    for group in led:
        if await sessions.next_session(visit.tx, group.id, visit.now) is None:
            await visit.say(NO_CLASS(visit.speech))
    for read in brought:
        await _say(visit, read)


async def _asked(
    tx: Transaction, account: int, now: datetime
) -> tuple[Speech, set[str], list[Facts]] | None:
    """Who asks: how to speak to them, which groups they lead, and what is known of each class."""
    person = await people.person_of_account(tx, account)
    if person is None:
        return None
    led = {group.id for group in await groups.groups_led_by(tx, person)}
    coming = await _coming(tx, person, now)
    return speech_to(person), led, [await digest_facts(tx, session, now) for session in coming]


async def _coming(tx: Transaction, person: Person, now: datetime) -> tuple[Session, ...]:
    """The next class of each group they lead, and those they stand in for, each once."""
    led = [
        await sessions.next_session(tx, group.id, now)
        for group in await groups.groups_led_by(tx, person)
    ]
    found = [each for each in led if each is not None]
    found += await sessions_stood_in(tx, person, now)
    return tuple({session.id: session for session in found}.values())


async def _read(worked: WorkedOut, speech: Speech, led: set[str]) -> Read:
    leads = worked.facts.group.id in led
    drawn = await draw_overviews(worked, (speech,))
    return Read(
        session=worked.facts.session.id,
        messages=messages(worked, speech, leads=leads),
        sheets=drawn.get(speech.language, ()),
    )


async def _say(visit: Visit, read: Read) -> None:
    for message in read.messages:
        await visit.say(message)
    for at, sheet in enumerate(read.sheets):
        errand = Errand(id=f"reply/{visit.update_id}/picture/{read.session}/{at}")
        await show(visit.tx, visit.account, sheet.picture, sheet.caption, errand, visit.now)
