"""Letters on their way: which goes next, and what became of each."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta

from bot.storage.database import Row, Transaction
from bot.storage.moments import read_maybe, read_moment, round_up, write_moment
from bot.storage.outbox import OUTBOX, SETTLED, Attachment, Kind

# How often a letter is sent again when it may have arrived, and how long to wait before.
REPEATS: Mapping[Kind, tuple[int, timedelta]] = {
    Kind.ALERT: (5, timedelta(seconds=10)),  # twice is better than never
    Kind.PROMPT: (1, timedelta(seconds=60)),  # time to answer the first, and so to end this one
    Kind.DIGEST: (1, timedelta(seconds=10)),
    Kind.CONFIRMATION: (0, timedelta()),  # the member can see in the next message what counts
}
REPEATS_OF_EDITS = (5, timedelta(seconds=10))  # changing a message twice to the same is once

# The first open letter of each chat that nobody asked us to leave alone, the most urgent chat
# first: an urgent letter pulls those before it along, so that a chat's letters keep their order.
HEADS = """
SELECT id, chat FROM (
    SELECT id, chat, sequence, state, retry_at,
        ROW_NUMBER() OVER (PARTITION BY chat ORDER BY sequence) AS place,
        MIN(priority) OVER (PARTITION BY chat) AS urgency,
        MAX(CASE WHEN state = 'sending' THEN 1 ELSE 0 END) OVER (PARTITION BY chat) AS busy
    FROM outbox
    WHERE state IN ('queued', 'sending') AND (not_before IS NULL OR not_before <= :now)
) AS due
WHERE place = 1 AND busy = 0 AND (retry_at IS NULL OR retry_at <= :now)
AND NOT EXISTS (
    SELECT 1 FROM chat_pause
    WHERE (chat_pause.chat = due.chat OR chat_pause.chat = 0) AND chat_pause.ends_at > :now
)
ORDER BY urgency, sequence
"""

NEXT_MOMENT = """
SELECT MIN(moment) FROM (
    SELECT not_before AS moment FROM outbox WHERE state = 'queued'
    UNION ALL SELECT retry_at FROM outbox WHERE state = 'queued'
    UNION ALL SELECT ends_at FROM chat_pause
) AS moments WHERE moment > :now
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Head:
    """The letter that is next in its chat."""

    id: str
    chat: int


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


async def drop_late(tx: Transaction, now: datetime) -> None:
    """End the letters that would come too late to help."""
    ended = await tx.execute(
        """UPDATE outbox SET state = CASE WHEN doubts > 0 THEN 'uncertain' ELSE 'dropped' END,
        reason = 'too late', ended_at = :now WHERE state = 'queued' AND not_after < :now""",
        now=write_moment(now),
    )
    if ended:
        tx.wake(SETTLED)


async def heads(tx: Transaction, now: datetime) -> tuple[Head, ...]:
    """What could be sent now, one letter per chat, the most urgent first."""
    rows = await tx.all(HEADS, now=write_moment(now))
    return tuple(Head(id=row["id"], chat=row["chat"]) for row in rows)


async def next_moment(tx: Transaction, now: datetime) -> datetime | None:
    """When something that waits may be due, if anything waits."""
    return read_maybe(await tx.value(NEXT_MOMENT, now=write_moment(now)))


async def claim(tx: Transaction, letter_id: str, now: datetime) -> Outgoing | None:
    """Mark a letter as being sent and return it; None if it has nothing to change any more."""
    row = await tx.one("SELECT * FROM outbox WHERE id = :id AND state = 'queued'", id=letter_id)
    if row is None:
        return None
    method: str = row["method"]
    arguments: dict[str, object] = json.loads(row["arguments"])
    if row["edits"] is not None and method.startswith("edit"):
        message = await _message_to_change(tx, row["edits"], now)
        if message is not None:
            arguments["message_id"] = message
        elif row["anew"]:
            method = "sendMessage"
        else:
            await _end(tx, letter_id, "dropped", now, "nothing to change")
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
            await _end(tx, letter_id, "superseded", now, None)
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


async def sent(tx: Transaction, letter_id: str, message_id: int | None, now: datetime) -> None:
    """The letter arrived. What it said is emptied; which message it became is kept."""
    row = await tx.one(
        """UPDATE outbox SET state = 'sent', message_id = COALESCE(:message, message_id),
        arguments = '{}', file = NULL, ended_at = :now WHERE id = :id AND state = 'sending'
        RETURNING edits, method""",
        id=letter_id,
        message=message_id,
        now=write_moment(now),
    )
    if row is not None and row["edits"] is not None and not row["method"].startswith("edit"):
        # sent anew: whatever changes the first letter's message from now on, changes this one
        await tx.execute(
            "UPDATE outbox SET message_id = :message WHERE id = :id",
            id=row["edits"],
            message=message_id,
        )
    tx.wake(OUTBOX)
    tx.wake(SETTLED)


async def failed(tx: Transaction, letter_id: str, reason: str, now: datetime) -> None:
    """The letter can never be sent."""
    await _end(tx, letter_id, "failed", now, reason)


async def dropped(tx: Transaction, letter_id: str, reason: str, now: datetime) -> None:
    """The letter is knowingly not sent."""
    await _end(tx, letter_id, "dropped", now, reason)


async def again_at(tx: Transaction, letter_id: str, moment: datetime) -> None:
    """The letter was not sent; it and those behind it wait until this moment."""
    await tx.execute(
        "UPDATE outbox SET state = 'queued', retry_at = :at WHERE id = :id AND state = 'sending'",
        id=letter_id,
        at=write_moment(round_up(moment)),
    )
    tx.wake(OUTBOX)
    tx.wake(SETTLED)


async def as_new(tx: Transaction, letter_id: str) -> None:
    """The message to change is gone: send the letter as a message of its own."""
    text = await tx.value("SELECT arguments FROM outbox WHERE id = :id", id=letter_id)
    arguments = {key: value for key, value in json.loads(text).items() if key != "message_id"}
    await tx.execute(
        """UPDATE outbox SET state = 'queued', method = 'sendMessage', arguments = :arguments
        WHERE id = :id AND state = 'sending'""",
        id=letter_id,
        arguments=json.dumps(arguments),
    )
    tx.wake(OUTBOX)


async def in_doubt(tx: Transaction, letter_id: str, now: datetime) -> None:
    """The letter may have arrived: by its kind, send it again after a while or leave it."""
    row = await tx.one(
        """UPDATE outbox SET doubts = doubts + 1 WHERE id = :id AND state = 'sending'
        RETURNING kind, method, doubts""",
        id=letter_id,
    )
    if row is None:
        return
    edit = row["method"].startswith("edit")
    most, rest = REPEATS_OF_EDITS if edit else REPEATS[Kind(row["kind"])]
    if row["doubts"] > most:
        await _end(tx, letter_id, "uncertain", now, None)
        return
    # not_before, not retry_at: the rest of the chat does not wait for a repetition
    await tx.execute(
        "UPDATE outbox SET state = 'queued', not_before = :at WHERE id = :id",
        id=letter_id,
        at=write_moment(round_up(now + rest)),
    )
    tx.wake(OUTBOX)
    tx.wake(SETTLED)


async def recover(tx: Transaction, now: datetime) -> int:
    """After a start: whatever was being sent may have arrived; says how many letters."""
    rows = await tx.all("SELECT id FROM outbox WHERE state = 'sending' ORDER BY sequence")
    for row in rows:
        await in_doubt(tx, row["id"], now)
    return len(rows)


async def recently_tried(tx: Transaction, since: datetime) -> tuple[tuple[int, datetime], ...]:
    """Which chats were written to since then, oldest first, for the pacing after a start."""
    rows = await tx.all(
        "SELECT chat, tried_at FROM outbox WHERE tried_at >= :since ORDER BY tried_at",
        since=write_moment(since),
    )
    return tuple((row["chat"], read_moment(row["tried_at"])) for row in rows)


async def nothing_to_send(tx: Transaction, now: datetime) -> bool:
    """Whether no letter is being sent and none could be."""
    if await tx.value("SELECT 1 FROM outbox WHERE state = 'sending' LIMIT 1") is not None:
        return False
    return not await heads(tx, now)


async def _end(
    tx: Transaction, letter_id: str, state: str, now: datetime, reason: str | None
) -> None:
    await tx.execute(
        """UPDATE outbox SET state = :state, reason = :reason, ended_at = :now
        WHERE id = :id AND state IN ('queued', 'sending')""",
        id=letter_id,
        state=state,
        reason=reason,
        now=write_moment(now),
    )
    tx.wake(OUTBOX)
    tx.wake(SETTLED)
