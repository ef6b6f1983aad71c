"""What became of a letter that was being sent, and whether it is sent again."""

import json
from collections.abc import Collection, Mapping
from datetime import datetime, timedelta

from bot.storage.database import Transaction
from bot.storage.moments import round_up, write_moment
from bot.storage.outbox import OUTBOX, SETTLED, Kind, is_change

# How often a letter is sent again when it may have arrived, and how long to wait before.
REPEATS: Mapping[Kind, tuple[int, timedelta]] = {
    Kind.ALERT: (5, timedelta(seconds=10)),  # twice is better than never
    Kind.PROMPT: (1, timedelta(seconds=60)),  # time to answer the first, and so to end this one
    Kind.DIGEST: (1, timedelta(seconds=10)),
    Kind.CONFIRMATION: (0, timedelta()),  # the member can see in the next message what counts
}
REPEATS_OF_CHANGES, REST_OF_CHANGES = 5, timedelta(seconds=10)

QUEUED = """
SELECT 1 FROM outbox WHERE state IN ('queued', 'sending') AND state = 'queued' LIMIT 1
"""


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
    if row is not None and row["edits"] is not None and not is_change(row["method"]):
        # sent anew: whatever changes the first letter's message from now on, changes this one
        await tx.execute(
            "UPDATE outbox SET message_id = :message WHERE id = :id",
            id=row["edits"],
            message=message_id,
        )
    if await tx.value(QUEUED) is not None:  # perhaps for the same chat, whose turn it is now
        tx.wake(OUTBOX)
    tx.wake(SETTLED)


async def failed(tx: Transaction, letter_id: str, reason: str, now: datetime) -> None:
    """The letter can never be sent."""
    await end(tx, letter_id, "failed", now, reason)


async def dropped(tx: Transaction, letter_id: str, reason: str, now: datetime) -> None:
    """The letter is knowingly not sent."""
    await end(tx, letter_id, "dropped", now, reason)


async def again_at(tx: Transaction, letter_id: str, moment: datetime) -> None:
    """The letter was not sent; it and those behind it wait until this moment."""
    await tx.execute(
        "UPDATE outbox SET state = 'queued', retry_at = :at WHERE id = :id AND state = 'sending'",
        id=letter_id,
        at=write_moment(round_up(moment)),
    )
    tx.wake(OUTBOX)
    tx.wake(SETTLED)


async def as_new(tx: Transaction, letter_id: str, now: datetime) -> None:
    """The message to change is gone: send the letter as a message of its own."""
    if await _is_outdated(tx, letter_id):
        await end(tx, letter_id, "superseded", now, None)
        return
    text = await tx.value("SELECT arguments FROM outbox WHERE id = :id", id=letter_id)
    arguments = {key: value for key, value in json.loads(text).items() if key != "message_id"}
    await tx.execute(
        """UPDATE outbox SET state = 'queued', method = 'sendMessage', arguments = :arguments
        WHERE id = :id AND state = 'sending'""",
        id=letter_id,
        arguments=json.dumps(arguments),
    )
    tx.wake(OUTBOX)


async def in_doubt(
    tx: Transaction, letter_id: str, now: datetime, rest_of_changes: timedelta = REST_OF_CHANGES
) -> None:
    """The letter may have arrived: by its kind, send it again after a while or leave it."""
    row = await tx.one(
        """UPDATE outbox SET doubts = doubts + 1 WHERE id = :id AND state = 'sending'
        RETURNING kind, method, doubts""",
        id=letter_id,
    )
    if row is None:
        return
    most, rest = REPEATS[Kind(row["kind"])]
    if is_change(row["method"]):
        most, rest = REPEATS_OF_CHANGES, rest_of_changes
    if row["doubts"] > most:
        await end(tx, letter_id, "uncertain", now, None)
        return
    if await _is_outdated(tx, letter_id):
        await end(tx, letter_id, "superseded", now, None)
        return
    # not_before, not retry_at: the rest of the chat does not wait for a repetition
    await tx.execute(
        "UPDATE outbox SET state = 'queued', not_before = :at WHERE id = :id",
        id=letter_id,
        at=write_moment(round_up(now + rest)),
    )
    tx.wake(OUTBOX)
    tx.wake(SETTLED)


async def _is_outdated(tx: Transaction, letter_id: str) -> bool:
    """Whether there is a newer letter for the same slot, which this one would come after."""
    found = await tx.value(
        """SELECT 1 FROM outbox AS it JOIN outbox AS newer ON newer.sequence > it.sequence
        WHERE it.id = :id AND newer.chat = it.chat AND newer.slot = it.slot
        AND newer.state IN ('queued', 'sending', 'sent', 'uncertain') LIMIT 1""",
        id=letter_id,
    )
    return found is not None


async def sending(tx: Transaction) -> tuple[str, ...]:
    """The ids of the letters that are being sent."""
    rows = await tx.all(
        """SELECT id FROM outbox WHERE state IN ('queued', 'sending') AND state = 'sending'
        ORDER BY chat, sequence"""
    )
    return tuple(row["id"] for row in rows)


async def recover(tx: Transaction, flying: Collection[str], now: datetime) -> int:
    """What was being sent and isn't in the air any more may have arrived; says how many letters."""
    doubtful = [letter for letter in await sending(tx) if letter not in flying]
    for letter in doubtful:
        # nobody is at it any more, and a change may be made twice
        await in_doubt(tx, letter, now, rest_of_changes=timedelta(0))
    return len(doubtful)


async def end(
    tx: Transaction, letter_id: str, state: str, now: datetime, reason: str | None
) -> None:
    """Close a letter that is on its way; one that has ended stays as it is."""
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
