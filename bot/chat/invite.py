"""/invite: a new link for each group I lead, and its picture for the wall."""

from datetime import datetime, timedelta
from functools import partial

from bot.buttons.setup import InviteButton
from bot.chat.visit import Rooms, Visit
from bot.desk.calendar import plan_of
from bot.desk.handing import hand_qr
from bot.luck import fingerprint, new_code
from bot.storage import groups, members
from bot.storage.database import Transaction
from bot.storage.groups import Group
from bot.storage.invites import open_invite
from bot.timetable import local
from bot.words import inviting as words
from bot.words import toasts
from bot.words.digest import NO_GROUP
from bot.words.groups import invite_link
from bot.words.joining import STRANGER
from bot.words.message import Message

LASTS = timedelta(days=90)
MOST_USES = 100


async def invite(visit: Visit) -> None:
    """A link where there is none that works; else the question whether to make another."""
    if visit.person is None:
        await visit.say(STRANGER(visit.speech))
        return
    led = await groups.groups_led_by(visit.tx, visit.person)
    if not led:
        await visit.say(NO_GROUP(visit.speech))
    for group in led:
        await visit.say(await _invitation(visit, group))


async def press(visit: Visit) -> None:
    """Close the old link, and make a new one; that it is the old one, its button says."""
    button, person = InviteButton.read(visit.data), visit.person
    led = () if person is None else await groups.groups_led_by(visit.tx, person)
    for group in led:
        if button and button.id == await open_invite(visit.tx, group.id, visit.now):
            await visit.replace(await _link(visit, group))
            return
    visit.toast = toasts.OUTDATED


async def _invitation(visit: Visit, group: Group) -> Message:
    opened = await open_invite(visit.tx, group.id, visit.now)
    if opened is None:
        return await _link(visit, group)
    return words.another_link(visit.speech, opened, group.name)


async def _link(visit: Visit, group: Group) -> Message:
    """A new link in words; its picture follows."""
    link, until = await new_link(visit.tx, visit.rooms, group.id, visit.now)
    send_picture(visit, link, group)
    zone = (await plan_of(visit.tx, group.plan_id)).timezone
    return words.invite(visit.speech, group.id, group.name, link, local(until, zone).date())


def send_picture(visit: Visit, link: str, group: Group) -> None:
    """Let the picture of a link follow what is said, once all is committed."""
    before, picture = (
        visit.afterwards,
        partial(
            hand_qr,
            visit.rooms.database,
            visit.account,
            visit.speech,
            link,
            group.name,
            f"{visit.update_id}/{group.id}",
            visit.now,
        ),
    )

    async def both() -> None:
        if before is not None:
            await before()
        await picture()

    visit.afterwards = both


async def new_link(
    tx: Transaction, rooms: Rooms, group_id: str, now: datetime
) -> tuple[str, datetime]:
    """Close the ways into a group that are open, and make a new one; until when it works."""
    code, until = new_code(), now + LASTS
    await members.revoke_invites(tx, group_id, now)
    await members.make_invite(tx, group_id, fingerprint(code), uses=MOST_USES, now=now, until=until)
    return invite_link(rooms.username, code), until
