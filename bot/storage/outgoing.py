"""Letters on their way: which of them goes next, and what exactly is sent."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from bot.storage.database import Row, Transaction
from bot.storage.moments import read_maybe, read_moment, write_moment
from bot.storage.outbox import Attachment, Letter, is_change, is_harmless
from bot.storage.outcomes import end, sending

# The first open letter of each chat that nobody asked us to leave alone, the most urgent chat
# first: an urgent letter pulls those before it along, so that a chat's letters keep their order.
HEADS = """
SELECT id, chat, method, edits FROM (
    SELECT id, chat, method, edits, sequence, state, retry_at,
        ROW_NUMBER() OVER (PARTITION BY chat ORDER BY sequence) AS place,
        MIN(priority) OVER (PARTITION BY chat) AS urgency,
        MAX(CASE WHEN state = 'sending' THEN 1 ELSE 0 END) OVER (PARTITION BY chat) AS busy
    FROM outbox
    WHERE state IN ('queued', 'sending') AND (not_before IS NULL OR not_before <= :now)
) AS foremost
WHERE place = 1 AND busy = 0 AND (retry_at IS NULL OR retry_at <= :now)
AND NOT EXISTS (
    SELECT 1 FROM chat_pause
    WHERE (chat_pause.chat = foremost.chat OR chat_pause.chat = 0) AND chat_pause.ends_at > :now
)
ORDER BY urgency, sequence
"""

# Letters that have ended are many: these say what the index of the open ones is made of.
NEXT_MOMENT = """
SELECT MIN(moment) FROM (
    SELECT not_before AS moment FROM outbox
    WHERE state IN ('queued', 'sending') AND state = 'queued'
    UNION ALL SELECT retry_at FROM outbox
    WHERE state IN ('queued', 'sending') AND state = 'queued'
    UNION ALL SELECT ends_at FROM chat_pause
) AS moments WHERE moment > :now
"""

OPEN = "SELECT count(*) FROM outbox WHERE state IN ('queued', 'sending')"


@dataclass(frozen=True, slots=True, kw_only=True)
class Head:
    """The letter that is next in its chat."""

    id: str
    chat: int
    harmless: bool
    """Whether it may be sent twice; see `bot.storage.outbox`."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Outgoing:
    """A letter that is being sent."""

    id: str
    chat: int
    method: str
    arguments: Mapping[str, object]
    file: Attachment | None
    tries: int
    """This one included."""
    anew: bool


async def heads(tx: Transaction, now: datetime) -> tuple[Head, ...]:
    """What could be sent now, one letter per chat, the most urgent first."""
    rows = await tx.all(HEADS, now=write_moment(now))
    return tuple(
        Head(
            id=row["id"],
            chat=row["chat"],
            harmless=is_harmless(row["method"], row["edits"]),
        )
        for row in rows
    )


async def next_moment(tx: Transaction, now: datetime) -> datetime | None:
    """When something that waits may be due, if anything waits."""
    return read_maybe(await tx.value(NEXT_MOMENT, now=write_moment(now)))


async def count_open(tx: Transaction) -> int:
    """How many letters are queued or being sent."""
    count: int = await tx.value(OPEN)
    return count


def at_once(letter: Letter) -> Outgoing:
    """A letter that was queued as being sent."""
    return Outgoing(
        id=letter.id,
        chat=letter.chat,
        method=letter.method,
        arguments=letter.arguments,
        file=None,
        tries=1,
        anew=letter.anew,
    )


async def claim(tx: Transaction, letter_id: str, now: datetime) -> Outgoing | None:
    """Mark a letter as being sent and return it; None if that makes no sense any more.

    That is when it has nothing to change, or would come too late to help.
    """
    row = await tx.one("SELECT * FROM outbox WHERE id = :id AND state = 'queued'", id=letter_id)
    if row is None:
        return None
    if row["not_after"] is not None and row["not_after"] < write_moment(now):
        await end(tx, letter_id, "uncertain" if row["doubts"] else "dropped", now, "too late")
        return None
    method: str = row["method"]
    arguments: dict[str, object] = json.loads(row["arguments"])
    if row["edits"] is not None and is_change(method):
        message = await _message_to_change(tx, row["edits"], now)
        if message is not None:
            arguments["message_id"] = message
        elif row["anew"]:
            method = "sendMessage"
        else:
            await end(tx, letter_id, "dropped", now, "nothing to change")
            return None
    if row["doubts"] and row["if_repeated"] and isinstance(arguments.get("text"), str):
        arguments["text"] = f"{arguments['text']}\n{row['if_repeated']}"
    await tx.execute(
        """UPDATE outbox SET state = 'sending', method = :method, tries = tries + 1, tried_at = :now
        WHERE id = :id""",
        id=letter_id,
        method=method,
        now=write_moment(now),
    )
    return _outgoing(row, method, arguments)


async def _message_to_change(tx: Transaction, letter_id: str, now: datetime) -> int | None:
    row = await tx.one("SELECT message_id, state FROM outbox WHERE id = :id", id=letter_id)
    if row is None or row["message_id"] is None:
        if row is not None and row["state"] == "queued":  # it was put off, or is in doubt
            await end(tx, letter_id, "superseded", now, None)
        return None
    message: int = row["message_id"]
    return message


def _outgoing(row: Row, method: str, arguments: dict[str, object]) -> Outgoing:
    file = None
    if row["file"] is not None:
        file = Attachment(field=row["file_field"], name=row["file_name"], content=row["file"])
    return Outgoing(
        id=row["id"],
        chat=row["chat"],
        method=method,
        arguments=arguments,
        file=file,
        tries=row["tries"] + 1,
        anew=bool(row["anew"]),
    )


async def recently_tried(tx: Transaction, since: datetime) -> tuple[tuple[int, datetime], ...]:
    """Which chats were written to since then, oldest first, for the pacing after a start."""
    rows = await tx.all(
        "SELECT chat, tried_at FROM outbox WHERE tried_at >= :since ORDER BY tried_at",
        since=write_moment(since),
    )
    return tuple((row["chat"], read_moment(row["tried_at"])) for row in rows)


async def nothing_to_send(tx: Transaction, now: datetime) -> bool:
    """Whether no letter is being sent and none could be."""
    if await sending(tx):
        return False
    return not await heads(tx, now)
