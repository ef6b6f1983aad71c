"""What falls due around sessions: done once, or knowingly dropped."""

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from bot.storage.database import Transaction
from bot.storage.moments import read_moment, write_moment


class Occasion(StrEnum):
    """What has to happen around a session because time passes."""

    DIGEST = "digest"
    PROMPT = "prompt"
    REMINDER = "reminder"


@dataclass(frozen=True, slots=True, kw_only=True)
class Due:
    """Something that has to happen once its moment has come, unless it is too late to help."""

    occasion: Occasion
    session_id: str
    at: datetime
    not_after: datetime


async def put_due(tx: Transaction, due: Due) -> None:
    """Note what falls due; what is done or dropped already stays so."""
    await tx.execute(
        """
        INSERT INTO due (kind, session_id, at, not_after)
        VALUES (:kind, :session_id, :at, :not_after)
        ON CONFLICT (kind, session_id) DO UPDATE
        SET at = excluded.at, not_after = excluded.not_after
        WHERE due.done_at IS NULL AND due.dropped_at IS NULL
        """,
        kind=due.occasion.value,
        session_id=due.session_id,
        at=write_moment(due.at),
        not_after=write_moment(due.not_after),
    )


async def is_done(tx: Transaction, session_id: str, occasion: Occasion) -> bool:
    """Whether that has happened around this session."""
    found = await tx.value(
        """
        SELECT 1 FROM due WHERE session_id = :id AND kind = :kind AND done_at IS NOT NULL
        """,
        id=session_id,
        kind=occasion.value,
    )
    return found is not None


async def extend_due(tx: Transaction, due: Due) -> None:
    """It helps until then, for everyone and for members with a time of their own.

    When it is to happen stays, if that is known.
    """
    named = {
        "kind": due.occasion.value,
        "session_id": due.session_id,
        "at": write_moment(due.at),
        "not_after": write_moment(due.not_after),
    }
    await tx.execute(
        """
        INSERT INTO due (kind, session_id, at, not_after)
        VALUES (:kind, :session_id, :at, :not_after)
        ON CONFLICT (kind, session_id) DO UPDATE SET not_after = excluded.not_after
        WHERE due.done_at IS NULL AND due.dropped_at IS NULL
        """,
        **named,
    )
    await tx.execute(
        """
        UPDATE asking SET not_after = :not_after
        WHERE session_id = :session_id AND kind = :kind AND ended_at IS NULL
        """,
        kind=due.occasion.value,
        session_id=due.session_id,
        not_after=named["not_after"],
    )


async def forget_dues(tx: Transaction, session_id: str) -> None:
    """Start afresh with what falls due around a session."""
    await tx.execute("DELETE FROM due WHERE session_id = :id", id=session_id)


async def forget_open_dues(tx: Transaction, session_id: str) -> None:
    """Start afresh with what has not happened around a session, whether dropped or not."""
    await tx.execute("DELETE FROM due WHERE session_id = :id AND done_at IS NULL", id=session_id)


async def drop_dues(tx: Transaction, session_id: str, now: datetime) -> None:
    """Whatever was still to happen around a session, for everyone or for one, won't."""
    named = {"id": session_id, "now": write_moment(now)}
    await tx.execute(
        """
        UPDATE due SET dropped_at = :now
        WHERE session_id = :id AND done_at IS NULL AND dropped_at IS NULL
        """,
        **named,
    )
    await tx.execute(
        "UPDATE asking SET ended_at = :now WHERE session_id = :id AND ended_at IS NULL", **named
    )


async def due_now(tx: Transaction, now: datetime) -> tuple[Due, ...]:
    """What has to happen now, longest due first."""
    rows = await tx.all(
        """
        SELECT * FROM due WHERE at <= :now AND done_at IS NULL AND dropped_at IS NULL
        ORDER BY at, session_id, kind
        """,
        now=write_moment(now),
    )
    return tuple(
        Due(
            occasion=Occasion(row["kind"]),
            session_id=row["session_id"],
            at=read_moment(row["at"]),
            not_after=read_moment(row["not_after"]),
        )
        for row in rows
    )


async def is_due(tx: Transaction, due: Due, now: datetime) -> bool:
    """Whether this is due still: what was done since may have put it off."""
    found = await tx.value(
        """
        SELECT 1 FROM due WHERE kind = :kind AND session_id = :session_id
        AND at <= :now AND done_at IS NULL AND dropped_at IS NULL
        """,
        kind=due.occasion.value,
        session_id=due.session_id,
        now=write_moment(now),
    )
    return found is not None


async def next_due(tx: Transaction) -> datetime | None:
    """When something falls due next; None if nothing will."""
    at = await tx.value("SELECT min(at) FROM due WHERE done_at IS NULL AND dropped_at IS NULL")
    return None if at is None else read_moment(at)


async def end_due(tx: Transaction, due: Due, now: datetime, *, dropped: bool) -> None:
    """It has happened, or is knowingly left out."""
    await tx.execute(
        """
        UPDATE due SET
            done_at = CASE WHEN :dropped = 0 THEN :now END,
            dropped_at = CASE WHEN :dropped = 1 THEN :now END
        WHERE kind = :kind AND session_id = :session_id
        """,
        kind=due.occasion.value,
        session_id=due.session_id,
        now=write_moment(now),
        dropped=int(dropped),
    )
