"""Sessions: the dated classes of each group."""

from dataclasses import dataclass
from datetime import date, datetime

from bot.storage.database import Row, Transaction
from bot.storage.moments import read_moment, write_moment
from bot.storage.names import name_row


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
    """Whether it isn't at its slot's time, because somebody has put it elsewhere."""
    by_hand: bool = False
    """Whether it is as an instructor has made it in the chat; the timetable leaves it alone."""
    event: str | None = None
    """The event of a calendar file that it stands for; None if it stands for none."""


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
        by_hand=row["by_hand_at"] is not None,
        event=row["event"],
    )
