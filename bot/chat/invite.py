"""/invite: a new link for each group I lead."""

from datetime import datetime, timedelta

from bot.chat.visit import Rooms, Visit
from bot.luck import fingerprint, new_code
from bot.storage import groups, members
from bot.storage.database import Transaction
from bot.words import groups as words
from bot.words.digest import NO_GROUP
from bot.words.joining import STRANGER

LASTS = timedelta(days=90)
MOST_USES = 100


async def invite(visit: Visit) -> None:
    """Old links stop working."""
    if visit.person is None:
        await visit.say(STRANGER(visit.speech))
        return
    led = await groups.groups_led_by(visit.tx, visit.person)
    if not led:
        await visit.say(NO_GROUP(visit.speech))
    for group in led:
        link = await new_link(visit.tx, visit.rooms, group.id, visit.now)
        await visit.say(words.invite(visit.speech, group.name, link))


async def new_link(tx: Transaction, rooms: Rooms, group_id: str, now: datetime) -> str:
    """Close the ways into a group that are open, and make a new one."""
    code = new_code()
    await members.revoke_invites(tx, group_id, now)
    await members.make_invite(
        tx, group_id, fingerprint(code), uses=MOST_USES, now=now, until=now + LASTS
    )
    return words.invite_link(rooms.username, code)
