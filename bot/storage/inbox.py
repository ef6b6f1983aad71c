"""What came in from the chat and waits to be handled, in order, once."""

import json
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from bot.storage.database import Transaction
from bot.storage.moments import read_maybe, round_up, write_moment

INBOX = "inbox"  # the name under which the workers are woken, and told what has come in
DONE = "done"  # and told which is done

# A person's first waiting update, unless it rests after a failure: the later ones wait behind it.
# Updates that wait are usually none, which is why a server expects none: after an outage, asking
# of each whether it has an earlier one would be asking all of them about all.
HEADS = """
SELECT update_id, person_key, document, tries, behind FROM (
    SELECT MIN(arrival) AS first, count(*) - 1 AS behind FROM inbox
    WHERE done_at IS NULL AND parked_at IS NULL GROUP BY person_key
) AS foremost JOIN inbox ON arrival = first
WHERE retry_at IS NULL OR retry_at <= :now
ORDER BY arrival LIMIT :limit
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Incoming:
    """One update as it came, with whom it is from."""

    update_id: int
    person_key: str
    document: str
    """The update as JSON."""
    tries: int = 0
    """How often it has been tried and not finished."""
    behind: int = 0
    """How many later ones of theirs wait."""


async def receive(
    tx: Transaction, updates: Sequence[Incoming], now: datetime
) -> tuple[Incoming, ...]:
    """Store what came in; returns those that were not known, in their order."""
    arrival: int = await tx.value("SELECT COALESCE(MAX(arrival), 0) FROM inbox")
    new = []
    for update in updates:
        arrival += 1
        added = await tx.value(
            """INSERT INTO inbox (update_id, arrival, person_key, document, received_at)
            VALUES (:update_id, :arrival, :person_key, :document, :now)
            ON CONFLICT (update_id) DO NOTHING RETURNING update_id""",
            update_id=update.update_id,
            arrival=arrival,
            person_key=update.person_key,
            document=update.document,
            now=write_moment(now),
        )
        if added is not None:
            new.append(update)
    if new:
        tx.wake(INBOX)
    return tuple(new)


async def waiting(tx: Transaction) -> tuple[Incoming, ...]:
    """Everything that is neither done nor parked, in order of arrival."""
    rows = await tx.all(
        """SELECT update_id, person_key, document, tries FROM inbox
        WHERE done_at IS NULL AND parked_at IS NULL ORDER BY arrival"""
    )
    return tuple(Incoming(**dict(row)) for row in rows)


async def heads(tx: Transaction, now: datetime, limit: int) -> tuple[Incoming, ...]:
    """The first waiting update of each person, in order of arrival."""
    rows = await tx.all(HEADS, now=write_moment(now), limit=limit)
    return tuple(Incoming(**dict(row)) for row in rows)


async def next_retry(tx: Transaction, now: datetime) -> datetime | None:
    """When the first of the resting updates may be tried again."""
    moment = await tx.value(
        """SELECT MIN(retry_at) FROM inbox
        WHERE done_at IS NULL AND parked_at IS NULL AND retry_at > :now""",
        now=write_moment(now),
    )
    return read_maybe(moment)


async def mark_done(tx: Transaction, update_id: int, now: datetime) -> datetime | None:
    """Say that an update is handled, in the transaction that holds its effects.

    Returns when it was received, or None if it had been handled before.
    """
    received = await tx.value(
        """UPDATE inbox SET done_at = :now, document = '{}'
        WHERE update_id = :update_id AND done_at IS NULL AND parked_at IS NULL
        RETURNING received_at""",
        update_id=update_id,
        now=write_moment(now),
    )
    tx.tell(DONE, update_id)
    return read_maybe(received)


async def is_done(tx: Transaction, update_id: int) -> bool:
    """Whether an update has been handled."""
    sql = "SELECT 1 FROM inbox WHERE update_id = :update_id AND done_at IS NOT NULL"
    return await tx.value(sql, update_id=update_id) is not None


async def count_try(tx: Transaction, update_id: int, now: datetime, rest: timedelta) -> None:
    """Count a try that did not finish; the next one comes after a rest."""
    await tx.execute(
        "UPDATE inbox SET tries = tries + 1, retry_at = :retry_at WHERE update_id = :update_id",
        update_id=update_id,
        retry_at=write_moment(round_up(now + rest)),
    )
    tx.wake(INBOX)


async def put_off(tx: Transaction, update_id: int, until: datetime, since: datetime) -> bool:
    """Let an update that came in after `since` rest, without counting a try; says whether it may.

    What it needs is out of reach, which is not its fault, but may not be so for ever.
    """
    rested = await tx.execute(
        """UPDATE inbox SET retry_at = :until
        WHERE update_id = :update_id AND received_at >= :since AND done_at IS NULL""",
        update_id=update_id,
        until=write_moment(round_up(until)),
        since=write_moment(since),
    )
    return rested > 0


async def is_resting(tx: Transaction, update_id: int, now: datetime) -> bool:
    """Whether it was put off until later."""
    sql = "SELECT 1 FROM inbox WHERE update_id = :update_id AND retry_at > :now"
    return await tx.value(sql, update_id=update_id, now=write_moment(now)) is not None


async def park(tx: Transaction, update_id: int, problem: str, now: datetime) -> None:
    """Give up on an update, keeping it for whoever looks into the problem."""
    await tx.execute(
        """UPDATE inbox SET parked_at = :now, problem = :problem, tries = tries + 1
        WHERE update_id = :update_id AND done_at IS NULL""",
        update_id=update_id,
        problem=problem,
        now=write_moment(now),
    )
    tx.wake(INBOX)


async def prune(tx: Transaction, before: datetime) -> int:
    """Remove what was done or parked before this moment; says how many rows."""
    return await tx.execute(
        "DELETE FROM inbox WHERE done_at < :before OR parked_at < :before",
        before=write_moment(before),
    )


async def forget(tx: Transaction, person_key: str) -> None:
    """Empty what is kept of a person's updates that could not be handled."""
    await tx.execute(
        """UPDATE inbox SET document = '{}'
        WHERE person_key = :person_key AND parked_at IS NOT NULL""",
        person_key=person_key,
    )


def as_document(update: dict[str, Any]) -> str:
    """An update as the text that is stored: all ASCII, since half a character may come in."""
    return json.dumps(update, separators=(",", ":"))
