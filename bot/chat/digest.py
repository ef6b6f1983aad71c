"""/digest: the next class of every group I lead."""

from bot.chat.visit import Visit
from bot.desk.digests import digest_of
from bot.storage import groups, sessions
from bot.words import digest as words
from bot.words.joining import STRANGER
from bot.words.variant import NO_CLASS


async def digest(visit: Visit) -> None:
    """What the digest says now; it changes nothing."""
    if visit.person is None:
        await visit.say(STRANGER(visit.speech))
        return
    led = await groups.groups_led_by(visit.tx, visit.person)
    if not led:
        await visit.say(words.NO_GROUP(visit.speech))
    for group in led:
        session = await sessions.next_session(visit.tx, group.id, visit.now)
        if session is None:
            await visit.say(NO_CLASS(visit.speech))
            continue
        for message in await digest_of(visit.tx, session, visit.speech, visit.now):
            await visit.say(message)
