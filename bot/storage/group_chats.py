"""The chats in which groups talk: offered to an instructor, linked, lost, moved, unlinked."""

from dataclasses import dataclass
from datetime import datetime

from bot.storage.database import Row, Transaction
from bot.storage.groups import Group
from bot.storage.moments import read_maybe, write_moment
from bot.storage.names import name_row

NO_THREAD = 0
"""Stands for a chat without topics."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """An instructor was asked whose chat this is."""

    id: str
    chat: int
    thread: int
    """The topic; NO_THREAD where there is none."""
    title: str


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupChat:
    """The chat of one group."""

    group_id: str
    chat: int
    thread: int
    title: str
    """As the chat is called where it is linked."""
    address: str
    """The link to the bot's private chat."""
    lost_at: datetime | None
    """When it refused us; None as long as all is well."""


async def put_offer(
    tx: Transaction, person_id: str, chat: int, thread: int, title: str, now: datetime
) -> Offer:
    """Remember what an instructor is asked; its id goes on the buttons."""
    offer = Offer(
        id=name_row("chat offer", person_id, chat, thread), chat=chat, thread=thread, title=title
    )
    await tx.execute(
        """
        INSERT INTO chat_offer (id, person_id, chat, thread, title, offered_at)
        VALUES (:id, :person_id, :chat, :thread, :title, :now)
        ON CONFLICT (id) DO UPDATE
        SET chat = excluded.chat, title = excluded.title, offered_at = excluded.offered_at
        """,
        id=offer.id,
        person_id=person_id,
        chat=chat,
        thread=thread,
        title=title,
        now=write_moment(now),
    )
    return offer


async def offer_to(tx: Transaction, offer_id: str, person_id: str) -> Offer | None:
    """The offer with this id, if it was made to this person."""
    row = await tx.one(
        "SELECT * FROM chat_offer WHERE id = :id AND person_id = :person_id",
        id=offer_id,
        person_id=person_id,
    )
    if row is None:
        return None
    return Offer(id=row["id"], chat=row["chat"], thread=row["thread"], title=row["title"])


async def forget_offers(tx: Transaction, before: datetime) -> None:
    """Drop what was asked too long ago."""
    await tx.execute(
        "DELETE FROM chat_offer WHERE offered_at < :before", before=write_moment(before)
    )


async def link(tx: Transaction, group_id: str, offer: Offer, address: str, now: datetime) -> None:
    """Make this the chat of that group, in place of any other; the caller knows it is free."""
    await tx.execute(
        """
        INSERT INTO group_chat (group_id, chat, thread, title, address, linked_at)
        VALUES (:group_id, :chat, :thread, :title, :address, :now)
        ON CONFLICT (group_id) DO UPDATE
        SET chat = excluded.chat, thread = excluded.thread, title = excluded.title,
            address = excluded.address, linked_at = excluded.linked_at, lost_at = NULL
        """,
        group_id=group_id,
        chat=offer.chat,
        thread=offer.thread,
        title=offer.title,
        address=address,
        now=write_moment(now),
    )


async def unlink(tx: Transaction, group_id: str) -> None:
    """The group has no chat any more."""
    await tx.execute("DELETE FROM group_chat WHERE group_id = :id", id=group_id)


async def chat_of(tx: Transaction, group: Group) -> GroupChat | None:
    """Where this group talks; None if that isn't known."""
    row = await tx.one("SELECT * FROM group_chat WHERE group_id = :id", id=group.id)
    return None if row is None else _read(row)


async def linked_in(tx: Transaction, chat: int) -> tuple[GroupChat, ...]:
    """Every group that talks in this chat, or in a topic of it."""
    rows = await tx.all(
        "SELECT * FROM group_chat WHERE chat = :chat ORDER BY linked_at, group_id", chat=chat
    )
    return tuple(map(_read, rows))


async def set_lost(tx: Transaction, chat: int, now: datetime | None) -> None:
    """Note that a chat refuses us, or with None that it no longer does."""
    await tx.execute(
        "UPDATE group_chat SET lost_at = :now WHERE chat = :chat",
        chat=chat,
        now=None if now is None else write_moment(now),
    )


async def follow(tx: Transaction, old: int, new: int) -> None:
    """A chat has another id now; whoever was linked there meanwhile stays."""
    await tx.execute(
        """
        UPDATE group_chat SET chat = :new WHERE chat = :old AND NOT EXISTS (
            SELECT 1 FROM group_chat AS other
            WHERE other.chat = :new AND other.thread = group_chat.thread
        )
        """,
        old=old,
        new=new,
    )
    await tx.execute("DELETE FROM group_chat WHERE chat = :old", old=old)
    await tx.execute("UPDATE chat_offer SET chat = :new WHERE chat = :old", old=old, new=new)


def _read(row: Row) -> GroupChat:
    return GroupChat(
        group_id=row["group_id"],
        chat=row["chat"],
        thread=row["thread"],
        title=row["title"],
        address=row["address"],
        lost_at=read_maybe(row["lost_at"]),
    )
