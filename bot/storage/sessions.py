"""Sessions and what falls due around them."""

from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum

from bot.storage.database import Row, Transaction
from bot.storage.moments import read_moment, write_moment
from bot.storage.names import name_row


class Occasion(StrEnum):
    """What has to happen around a session because time passes."""

    DIGEST = "digest"
    PROMPT = "prompt"
    REMINDER = "reminder"


@dataclass(frozen=True, slots=True, kw_only=True)
class Session:
    """One dated class of a group."""

    id: str
    group_id: str
    plan_id: str
    slot: str
    """The local start in the timetable that it stands for; it keeps it when it is moved."""
    starts_at: datetime
    ends_at: datetime
    local_day: date
    cancelled: bool
    moved: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Due:
    """Something that has to happen once its moment has come, unless it is too late to help."""

    occasion: Occasion
    session_id: str
    at: datetime
    not_after: datetime


def session_id(group_id: str, slot: str) -> str:
    """The id of the session that stands for a slot of a group's timetable."""
    return name_row("session", group_id, slot)


async def put_session(tx: Transaction, session: Session) -> None:
    """Store a session as the timetable has it; one that was moved or cancelled by hand stays so."""
    await tx.execute(
        """
        INSERT INTO session (id, group_id, plan_id, slot, starts_at, ends_at, local_day)
        VALUES (
            :id, :group_id,
            COALESCE((SELECT plan_id FROM own_plan WHERE session_id = :id), :plan_id),
            :slot, :starts_at, :ends_at, :local_day
        )
        ON CONFLICT (id) DO UPDATE
        SET plan_id = excluded.plan_id, starts_at = excluded.starts_at,
            ends_at = excluded.ends_at, local_day = excluded.local_day
        WHERE session.moved_at IS NULL AND session.cancelled_at IS NULL
        """,
        id=session.id,
        group_id=session.group_id,
        plan_id=session.plan_id,
        slot=session.slot,
        starts_at=write_moment(session.starts_at),
        ends_at=write_moment(session.ends_at),
        local_day=session.local_day.isoformat(),
    )


async def move_session(
    tx: Transaction,
    session: Session,
    starts_at: datetime,
    ends_at: datetime,
    day: date,
    now: datetime,
) -> None:
    """Put a session at another time; the timetable no longer changes it."""
    await tx.execute(
        """
        UPDATE session SET starts_at = :starts_at, ends_at = :ends_at, local_day = :day,
            moved_at = :now WHERE id = :id
        """,
        id=session.id,
        starts_at=write_moment(starts_at),
        ends_at=write_moment(ends_at),
        day=day.isoformat(),
        now=write_moment(now),
    )


async def cancel_session(tx: Transaction, session_id: str, now: datetime) -> None:
    """Call a session off, with everything that was due around it."""
    await tx.execute(
        "UPDATE session SET cancelled_at = :now WHERE id = :id AND cancelled_at IS NULL",
        id=session_id,
        now=write_moment(now),
    )
    await tx.execute(
        """
        UPDATE due SET dropped_at = :now
        WHERE session_id = :id AND done_at IS NULL AND dropped_at IS NULL
        """,
        id=session_id,
        now=write_moment(now),
    )


async def remove_future_sessions(tx: Transaction, group_id: str, now: datetime) -> None:
    """Make room for another timetable: what has not begun and was not touched by hand goes."""
    named = {"group_id": group_id, "now": write_moment(now)}
    untouched = """
        SELECT id FROM session WHERE group_id = :group_id AND starts_at > :now
        AND moved_at IS NULL AND cancelled_at IS NULL
    """
    await tx.execute(f"DELETE FROM due WHERE session_id IN ({untouched})", **named)  # noqa: S608
    await tx.execute(f"DELETE FROM advice WHERE session_id IN ({untouched})", **named)  # noqa: S608
    await tx.execute(f"DELETE FROM session WHERE id IN ({untouched})", **named)  # noqa: S608


async def session(tx: Transaction, session_id: str) -> Session:
    """The session with this id."""
    found = await find_session(tx, session_id)
    if found is None:
        raise LookupError(session_id)
    return found


async def find_session(tx: Transaction, session_id: str) -> Session | None:
    """The session with this id; None if there is none."""
    row = await tx.one("SELECT * FROM session WHERE id = :id", id=session_id)
    return None if row is None else read_session(row)


async def next_session(tx: Transaction, group_id: str, now: datetime) -> Session | None:
    """The class that comes next, or is running; None if the timetable has ended."""
    return next(iter(await sessions_from(tx, group_id, now, most=1)), None)


async def sessions_from(
    tx: Transaction, group_id: str, now: datetime, most: int
) -> tuple[Session, ...]:
    """The classes that come next, earliest first."""
    rows = await tx.all(
        """
        SELECT * FROM session WHERE group_id = :group_id AND ends_at > :now
        AND cancelled_at IS NULL ORDER BY starts_at LIMIT :most
        """,
        group_id=group_id,
        now=write_moment(now),
        most=most,
    )
    return tuple(map(read_session, rows))


async def session_after(tx: Transaction, session: Session) -> Session | None:
    """The class of the same group that follows this one."""
    row = await tx.one(
        """
        SELECT * FROM session WHERE group_id = :group_id AND starts_at > :starts_at
        AND cancelled_at IS NULL ORDER BY starts_at LIMIT 1
        """,
        group_id=session.group_id,
        starts_at=write_moment(session.starts_at),
    )
    return None if row is None else read_session(row)


async def session_before(tx: Transaction, session: Session) -> Session | None:
    """The class of the same group that came before this one."""
    row = await tx.one(
        """
        SELECT * FROM session WHERE group_id = :group_id AND starts_at < :starts_at
        AND cancelled_at IS NULL ORDER BY starts_at DESC LIMIT 1
        """,
        group_id=session.group_id,
        starts_at=write_moment(session.starts_at),
    )
    return None if row is None else read_session(row)


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


async def forget_dues(tx: Transaction, session_id: str) -> None:
    """Start afresh with what falls due around a session that was moved."""
    await tx.execute("DELETE FROM due WHERE session_id = :id", id=session_id)


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


def read_session(row: Row) -> Session:
    """A row of `session` as a value."""
    return Session(
        id=row["id"],
        group_id=row["group_id"],
        plan_id=row["plan_id"],
        slot=row["slot"],
        starts_at=read_moment(row["starts_at"]),
        ends_at=read_moment(row["ends_at"]),
        local_day=date.fromisoformat(row["local_day"]),
        cancelled=row["cancelled_at"] is not None,
        moved=row["moved_at"] is not None,
    )
