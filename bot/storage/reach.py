"""Which chats can be written to just now: the unreachable, the paused and the moved."""

from datetime import datetime

from bot.storage.database import Transaction
from bot.storage.moments import round_up, write_moment

EVERYBODY = 0  # no chat has this id


async def is_unreachable(tx: Transaction, chat: int) -> bool:
    """Whether this chat refused us and has not written since."""
    found = await tx.value("SELECT 1 FROM unreachable WHERE chat = :chat", chat=chat)
    return found is not None


async def mark_unreachable(tx: Transaction, chat: int, reason: str, now: datetime) -> bool:
    """Stop writing to a chat and drop what waits for it; true if that is news."""
    news = await tx.value(
        """INSERT INTO unreachable (chat, since, reason) VALUES (:chat, :now, :reason)
        ON CONFLICT (chat) DO NOTHING RETURNING chat""",
        chat=chat,
        reason=reason,
        now=write_moment(now),
    )
    await tx.execute(
        """UPDATE outbox SET state = 'dropped', reason = 'unreachable', ended_at = :now
        WHERE chat = :chat AND state = 'queued'""",
        chat=chat,
        now=write_moment(now),
    )
    return news is not None


async def clear_unreachable(tx: Transaction, chat: int) -> bool:
    """Write to a chat again, since it wrote to us; true if that is news."""
    return await tx.execute("DELETE FROM unreachable WHERE chat = :chat", chat=chat) > 0


async def pause(tx: Transaction, chat: int, ends_at: datetime, now: datetime) -> None:
    """Leave a chat alone for a while; when another one is paused too, leave everybody alone."""
    await tx.execute("DELETE FROM chat_pause WHERE ends_at <= :now", now=write_moment(now))
    another = await tx.value("SELECT 1 FROM chat_pause WHERE chat <> :chat", chat=chat)
    for paused in (chat,) if another is None else (chat, EVERYBODY):
        await tx.execute(
            """INSERT INTO chat_pause (chat, ends_at) VALUES (:chat, :ends_at)
            ON CONFLICT (chat) DO UPDATE SET ends_at = :ends_at
            WHERE chat_pause.ends_at < :ends_at""",
            chat=paused,
            ends_at=write_moment(round_up(ends_at)),
        )


async def move_chat(tx: Transaction, old: int, new: int) -> None:
    """Follow a group to its new id; the ids of its old messages mean nothing there."""
    await tx.execute(
        "UPDATE outbox SET chat = :new, message_id = NULL WHERE chat = :old", old=old, new=new
    )
    for table in ("unreachable", "chat_pause"):
        await tx.execute(f"DELETE FROM {table} WHERE chat = :old", old=old)  # noqa: S608 - our own
    tx.wake("outbox")


async def forget_chat(tx: Transaction, chat: int) -> None:
    """Erase everything that was or should be said to a chat."""
    for table in ("outbox", "unreachable", "chat_pause"):
        await tx.execute(f"DELETE FROM {table} WHERE chat = :chat", chat=chat)  # noqa: S608 - our own
