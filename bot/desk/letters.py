"""Messages become letters: what the chat API is to be called with, and why."""

from dataclasses import dataclass
from datetime import datetime

from bot.storage.database import Transaction
from bot.storage.outbox import Kind, Letter, Priority, queue
from bot.words.message import Key, Link, Message


@dataclass(frozen=True, slots=True, kw_only=True)
class Errand:
    """Why something is said, and how much it matters that it arrives."""

    id: str
    """Names the reason: the same reason is said once."""
    priority: Priority = Priority.INTERACTIVE
    kind: Kind = Kind.CONFIRMATION
    not_after: datetime | None = None
    if_repeated: str | None = None
    passing: bool = False
    """Whether nothing of it is kept, since its reader was erased."""
    at_once: bool = False
    """Whether nothing that follows in this transaction takes it back."""


async def say(tx: Transaction, chat: int, message: Message, errand: Errand, now: datetime) -> bool:
    """Queue a new message; false if it was said before."""
    letter = Letter(
        id=errand.id,
        chat=chat,
        method="sendMessage",
        arguments={
            **content(message),
            "protect_content": message.personal,
        },
        priority=errand.priority,
        kind=errand.kind,
        not_after=errand.not_after,
        if_repeated=errand.if_repeated,
        passing=errand.passing,
    )
    return await queue(tx, letter, now)


async def change(
    tx: Transaction,
    chat: int,
    message: Message,
    errand: Errand,
    now: datetime,
    *,
    letter: str,
    message_id: int | None = None,
) -> None:
    """Queue a change of a message: the one that `letter` became, or that `message_id` names."""
    arguments = content(message)
    if message_id is not None:
        arguments["message_id"] = message_id
    await queue(
        tx,
        Letter(
            id=errand.id,
            chat=chat,
            method="editMessageText",
            arguments=arguments,
            priority=errand.priority,
            kind=errand.kind,
            edits=None if message_id is not None else letter,
            anew=True,
            slot=f"{letter}/{message_id or ''}",
            passing=errand.passing,
            at_once=errand.at_once,
        ),
        now,
    )


def content(message: Message) -> dict[str, object]:
    """What a message is made of, as the chat API takes it."""
    return {
        "text": message.text,
        "parse_mode": "HTML",
        "link_preview_options": {"is_disabled": True},
        "reply_markup": {"inline_keyboard": [list(map(_key, row)) for row in message.rows]},
    }


def _key(key: Key | Link) -> dict[str, str]:
    if isinstance(key, Link):
        return {"text": key.label, "url": key.url}
    return {"text": key.label, "callback_data": key.button.write()}
