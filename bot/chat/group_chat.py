"""The group's own chat: link it to a group, unlink it, and follow what becomes of it."""

from bot.buttons import LinkButton, UnlinkButton
from bot.chat.place import Place, Turn
from bot.chat.visit import Visit
from bot.desk import group_chats as desk
from bot.storage import group_chats, groups
from bot.storage.group_chats import Offer
from bot.storage.groups import Group
from bot.storage.people import Person
from bot.storage.reach import clear_unreachable, mark_unreachable, move_chat
from bot.words import group_chat as words
from bot.words import toasts
from bot.words.digest import NO_GROUP
from bot.words.joining import STRANGER


async def overview(visit: Visit) -> None:
    """/groupchat in private: which chats are linked, and how to link one."""
    if visit.person is None:
        await visit.say(STRANGER(visit.speech))
        return
    led = await groups.groups_led_by(visit.tx, visit.person)
    if not led:
        await visit.say(NO_GROUP(visit.speech))
    for group in led:
        chat = await group_chats.chat_of(visit.tx, group)
        if chat is None:
            await visit.say(words.no_chat(visit.speech, group.name, visit.rooms.username))
        else:
            await visit.say(words.linked(visit.speech, group.id, group.name, chat.title))


async def here(visit: Visit) -> None:
    """/groupchat in a group chat: an instructor is answered in private, others not at all."""
    if visit.person is not None and visit.place is not None:
        await _offer(visit, visit.person, visit.place)


async def standing(visit: Visit, place: Place) -> None:
    """The bot was let into a group chat, or put out of it, or may no longer write there."""
    if place.turn is Turn.LOST:
        await mark_unreachable(visit.tx, place.chat, "put out", visit.now)
        await desk.lost(visit.tx, place.chat, visit.now)
    elif place.turn is Turn.ARRIVED:
        known = await desk.back(visit.tx, place.chat, visit.now)
        if not known and visit.person is not None:
            await _offer(visit, visit.person, place)


async def moved(visit: Visit) -> None:
    """A group chat has become a supergroup: everything follows it."""
    if visit.place is not None and visit.place.moved is not None:
        old, new = visit.place.moved
        await move_chat(visit.tx, old, new)
        await desk.moved(visit.tx, old, new, visit.now)


async def link(visit: Visit) -> None:
    """An instructor says whose chat it is."""
    button, person = LinkButton.read(visit.data), visit.person
    if button is None or person is None:
        visit.toast = toasts.OUTDATED
        return
    offer = await group_chats.offer_to(visit.tx, button.offer, person.id)
    group = await _led(visit, person, button.group)
    if offer is None:
        visit.toast = toasts.OUTDATED
    elif group is None:
        visit.toast = toasts.NOT_YOURS
    elif await _holder(visit, offer.chat, offer.thread) not in (None, group.id):
        visit.toast = words.TAKEN_TOAST
    else:
        await _link(visit, group, offer)


async def unlink(visit: Visit) -> None:
    """An instructor takes the chat away from a group; one tap undoes it."""
    button, person = UnlinkButton.read(visit.data), visit.person
    group = None if button is None or person is None else await _led(visit, person, button.id)
    if person is None or group is None:
        visit.toast = toasts.NOT_YOURS
        return
    chat = await group_chats.chat_of(visit.tx, group)
    if chat is None:
        visit.toast = toasts.OUTDATED
        return
    offer = await group_chats.put_offer(
        visit.tx, person.id, chat.chat, chat.thread, chat.title, visit.now
    )
    await group_chats.unlink(visit.tx, group.id)
    await visit.replace(words.unlinked(visit.speech, group.id, group.name, chat.title, offer.id))


async def _link(visit: Visit, group: Group, offer: Offer) -> None:
    address = f"https://t.me/{visit.rooms.username}"
    await group_chats.link(visit.tx, group.id, offer, address, visit.now)
    await clear_unreachable(visit.tx, offer.chat)
    await visit.replace(words.linked(visit.speech, group.id, group.name, offer.title))


async def _offer(visit: Visit, person: Person, place: Place) -> None:
    """Ask an instructor in private whose chat this is; anybody else hears nothing."""
    led = {group.id: group.name for group in await groups.groups_led_by(visit.tx, person)}
    if not led:
        return
    holder = await _holder(visit, place.chat, place.thread)
    if holder is None:
        offer = await group_chats.put_offer(
            visit.tx, person.id, place.chat, place.thread, place.title, visit.now
        )
        await visit.say(words.whose_chat(visit.speech, place.title, led, offer.id))
    elif holder in led:
        await visit.say(words.linked(visit.speech, holder, led[holder], place.title))
    else:
        await visit.say(words.TAKEN(visit.speech))


async def _holder(visit: Visit, chat: int, thread: int) -> str | None:
    """The group that talks in this chat, or in this topic of it."""
    linked = await group_chats.linked_in(visit.tx, chat)
    return next((each.group_id for each in linked if each.thread == thread), None)


async def _led(visit: Visit, person: Person, group_id: str) -> Group | None:
    led = await groups.groups_led_by(visit.tx, person)
    return next((each for each in led if each.id == group_id), None)
