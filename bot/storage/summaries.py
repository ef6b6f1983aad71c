"""Summaries after a class: which are still to be sent, and what was offered in them."""

from dataclasses import dataclass
from datetime import datetime

from bot.storage.database import Row, Transaction
from bot.storage.moments import read_maybe, read_moment, write_moment
from bot.storage.sessions import Session, read_session


@dataclass(frozen=True, slots=True, kw_only=True)
class Summary:
    """The summary of one class."""

    session_id: str
    at: datetime
    """The latest moment to send it; earlier if everyone has answered."""
    not_after: datetime
    done_at: datetime | None
    demands: str | None
    """What was offered, as the desk wrote it; None if nothing was."""
    applied_at: datetime | None
    plan_before: str | None
    plan_after: str | None


async def sessions_to_sum_up(tx: Transaction, since: datetime) -> tuple[Session, ...]:
    """Classes whose members were asked since then, and which have no row here yet."""
    rows = await tx.all(
        """
        SELECT session.* FROM session JOIN due ON due.session_id = session.id
        WHERE due.kind = 'prompt' AND due.done_at >= :since AND session.cancelled_at IS NULL
        AND NOT EXISTS (SELECT 1 FROM summary WHERE summary.session_id = session.id)
        ORDER BY session.starts_at
        """,
        since=write_moment(since),
    )
    return tuple(map(read_session, rows))


async def put_summary(tx: Transaction, session_id: str, at: datetime, not_after: datetime) -> None:
    """Note when the summary of a class falls due."""
    await tx.execute(
        """
        INSERT INTO summary (session_id, at, not_after) VALUES (:session_id, :at, :not_after)
        ON CONFLICT (session_id) DO NOTHING
        """,
        session_id=session_id,
        at=write_moment(at),
        not_after=write_moment(not_after),
    )


async def open_summaries(tx: Transaction) -> tuple[Summary, ...]:
    """What hasn't been sent yet, the earliest first."""
    rows = await tx.all("SELECT * FROM summary WHERE done_at IS NULL ORDER BY at, session_id")
    return tuple(map(_summary, rows))


async def summary(tx: Transaction, session_id: str) -> Summary | None:
    """The summary of that class."""
    row = await tx.one("SELECT * FROM summary WHERE session_id = :id", id=session_id)
    return None if row is None else _summary(row)


async def end_summary(tx: Transaction, session_id: str, demands: str | None, now: datetime) -> bool:
    """It was sent with this offer, or left out; false if that had happened before."""
    changed = await tx.execute(
        """
        UPDATE summary SET done_at = :now, demands = :demands
        WHERE session_id = :session_id AND done_at IS NULL
        """,
        session_id=session_id,
        demands=demands,
        now=write_moment(now),
    )
    return changed > 0


async def last_offer(tx: Transaction, group_id: str, since: datetime) -> str | None:
    """What a group was last offered since then and has left as it was."""
    found = await tx.value(
        """
        SELECT demands FROM summary JOIN session ON session.id = summary.session_id
        WHERE session.group_id = :group_id AND demands IS NOT NULL AND applied_at IS NULL
        AND summary.done_at >= :since ORDER BY summary.done_at DESC LIMIT 1
        """,
        group_id=group_id,
        since=write_moment(since),
    )
    return None if found is None else str(found)


async def note_applied(
    tx: Transaction, session_id: str, before: str, after: str, now: datetime
) -> None:
    """The offer was taken up: the plan before is what an undo goes back to."""
    await tx.execute(
        """
        UPDATE summary SET applied_at = :now, plan_before = :before, plan_after = :after
        WHERE session_id = :session_id
        """,
        session_id=session_id,
        before=before,
        after=after,
        now=write_moment(now),
    )


async def note_undone(tx: Transaction, session_id: str) -> None:
    """It was taken back, and may be taken up again."""
    await tx.execute(
        """
        UPDATE summary SET applied_at = NULL, plan_before = NULL, plan_after = NULL
        WHERE session_id = :session_id
        """,
        session_id=session_id,
    )


async def unanswered(tx: Transaction, session_id: str) -> int:
    """How many were asked about a class and haven't answered all of it."""
    found = await tx.value(
        """
        SELECT count(*) FROM prompt
        JOIN membership ON membership.person_id = prompt.person_id
        JOIN session ON session.id = prompt.session_id
        WHERE prompt.session_id = :id AND membership.group_id = session.group_id
        AND membership.left_at IS NULL AND (prompt.showing IS NOT NULL OR NOT EXISTS (
            SELECT 1 FROM answer WHERE answer.prompt_id = prompt.id
        ))
        """,
        id=session_id,
    )
    return int(found)


async def still_to_be_asked(tx: Transaction, session_id: str) -> int:
    """How many are asked about a class at a moment of their own that hasn't come yet."""
    found = await tx.value(
        """
        SELECT count(*) FROM asking
        WHERE session_id = :id AND kind = 'prompt' AND ended_at IS NULL
        """,
        id=session_id,
    )
    return int(found)


def _summary(row: Row) -> Summary:
    return Summary(
        session_id=row["session_id"],
        at=read_moment(row["at"]),
        not_after=read_moment(row["not_after"]),
        done_at=read_maybe(row["done_at"]),
        demands=row["demands"],
        applied_at=read_maybe(row["applied_at"]),
        plan_before=row["plan_before"],
        plan_after=row["plan_after"],
    )
