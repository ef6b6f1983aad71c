"""Group chats that refuse us, take us back or move: followed, and told to the instructors."""

from collections.abc import Callable
from datetime import datetime

from bot.desk.letters import Errand, say
from bot.desk.shared_questions import ask_anew
from bot.storage import group_chats, groups
from bot.storage.database import Transaction
from bot.storage.group_chats import GroupChat
from bot.storage.outbox import Kind, Priority
from bot.storage.reach import clear_unreachable
from bot.words import group_chat as words
from bot.words.message import Message
from bot.words.speech import Speech, speech_for


async def lost(tx: Transaction, chat: int, now: datetime) -> None:
    """A chat takes nothing from us any more: its instructors are told, once until it is back."""
    linked = await group_chats.linked_in(tx, chat)
    news = [each for each in linked if each.lost_at is None]
    for each in news:
        await _tell(tx, each, "lost", words.lost, now)
    if news:
        await group_chats.set_lost(tx, chat, now)


async def back(tx: Transaction, chat: int, now: datetime) -> bool:
    """A chat takes us again; false if it is no group's chat."""
    await clear_unreachable(tx, chat)
    linked = await group_chats.linked_in(tx, chat)
    for each in linked:
        if each.lost_at is not None:
            await _tell(tx, each, "back", words.found_again, now)
    await group_chats.set_lost(tx, chat, None)
    return bool(linked)


async def moved(tx: Transaction, old: int, new: int, now: datetime) -> None:
    """A chat has another id, where our old messages can't be changed: ask anew what is open."""
    known = await group_chats.linked_in(tx, old)
    await group_chats.follow(tx, old, new)
    if known:
        for chat in await group_chats.linked_in(tx, new):
            await ask_anew(tx, chat, now)


async def _tell(
    tx: Transaction,
    chat: GroupChat,
    what: str,
    news: Callable[[Speech, str, str], Message],
    now: datetime,
) -> None:
    group = await groups.group(tx, chat.group_id)
    for leader in await groups.leaders(tx, group.id):
        errand = Errand(
            id=f"{what}/{group.id}/{leader.id}/{now:%Y%m%d%H%M%S}",
            priority=Priority.DIGEST,
            kind=Kind.ALERT,
        )
        message = news(speech_for(leader.language), group.name, chat.title)
        await say(tx, leader.account, message, errand, now)
