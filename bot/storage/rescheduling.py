"""Changes to sessions: put in place by the timetable, or moved, cancelled and added by hand."""

from dataclasses import replace
from datetime import date, datetime

from bot.storage.database import Transaction
from bot.storage.dues import drop_dues
from bot.storage.moments import write_moment
from bot.storage.names import name_row
from bot.storage.outbox import SETTLED
from bot.storage.sessions import Session, find_session, read_session

HELD_BY = ("prompt", "attendance", "verdict", "shared_question", "asking", "symptom", "summary")
"""Tables in which something may have been said about a session, so that it has to stay."""


async def ahead(tx: Transaction, group_id: str, now: datetime) -> tuple[Session, ...]:
    """Every session of a group that has not begun, cancelled ones too, earliest first."""
    rows = await tx.all(
        """
        SELECT * FROM session WHERE group_id = :group_id AND starts_at > :now
        ORDER BY starts_at, id
        """,
        group_id=group_id,
        now=write_moment(now),
    )
    return tuple(map(read_session, rows))


async def since(tx: Transaction, group_id: str, moment: datetime) -> tuple[Session, ...]:
    """Every session of a group that took place then or later, or is to, earliest first."""
    rows = await tx.all(
        """
        SELECT * FROM session WHERE group_id = :group_id AND ends_at >= :moment
        AND cancelled_at IS NULL ORDER BY starts_at, id
        """,
        group_id=group_id,
        moment=write_moment(moment),
    )
    return tuple(map(read_session, rows))


async def last_over(
    tx: Transaction, group_id: str, after: datetime, now: datetime
) -> Session | None:
    """The last session that is over, if it ended after that; also one that wasn't held."""
    row = await tx.one(
        """
        SELECT * FROM session WHERE group_id = :group_id AND ends_at <= :now AND ends_at > :after
        AND (cancelled_at IS NULL OR by_hand_at IS NOT NULL) ORDER BY starts_at DESC LIMIT 1
        """,
        group_id=group_id,
        after=write_moment(after),
        now=write_moment(now),
    )
    return None if row is None else read_session(row)


async def at_that_time(
    tx: Transaction, group_id: str, starts_at: datetime, ends_at: datetime, *, besides: str = ""
) -> Session | None:
    """A session of the group, other than that one, that would be on at the same time."""
    row = await tx.one(
        """
        SELECT * FROM session WHERE group_id = :group_id AND id <> :besides
        AND cancelled_at IS NULL AND starts_at < :ends_at AND ends_at > :starts_at
        ORDER BY starts_at LIMIT 1
        """,
        group_id=group_id,
        besides=besides,
        starts_at=write_moment(starts_at),
        ends_at=write_moment(ends_at),
    )
    return None if row is None else read_session(row)


async def make_session(tx: Transaction, session: Session, now: datetime) -> Session:
    """Store a session that is new, under an id that no session has had."""
    while await find_session(tx, session.id) is not None:
        session = _renamed(session)
    await tx.execute(
        """
        INSERT INTO session
            (id, group_id, plan_id, slot, event, starts_at, ends_at, local_day, by_hand_at)
        VALUES (
            :id, :group_id,
            COALESCE((SELECT plan_id FROM own_plan WHERE session_id = :id), :plan_id),
            :slot, :event, :starts_at, :ends_at, :local_day, CASE WHEN :by_hand = 1 THEN :now END
        )
        """,
        id=session.id,
        group_id=session.group_id,
        plan_id=session.plan_id,
        slot=session.slot,
        event=session.event,
        starts_at=write_moment(session.starts_at),
        ends_at=write_moment(session.ends_at),
        local_day=session.local_day.isoformat(),
        by_hand=int(session.by_hand),
        now=write_moment(now),
    )
    return session


async def free_slots(tx: Transaction, session_ids: tuple[str, ...]) -> None:
    """Take their slots and events from sessions that get others, which these might have now."""
    for each in session_ids:
        await tx.execute(
            "UPDATE session SET slot = '~' || id, event = NULL WHERE id = :id", id=each
        )


async def follow_timetable(tx: Transaction, session: Session) -> None:
    """Put a session where its timetable has it; what an instructor made of it stays so."""
    await tx.execute(
        "UPDATE session SET slot = :slot, event = :event WHERE id = :id",
        id=session.id,
        slot=session.slot,
        event=session.event,
    )
    await tx.execute(
        """
        UPDATE session SET starts_at = :starts_at, ends_at = :ends_at, local_day = :local_day,
            cancelled_at = NULL
        WHERE id = :id AND by_hand_at IS NULL
        """,
        id=session.id,
        starts_at=write_moment(session.starts_at),
        ends_at=write_moment(session.ends_at),
        local_day=session.local_day.isoformat(),
    )


async def take_out(tx: Transaction, session: Session, now: datetime) -> None:
    """The timetable has this session no longer: it goes, or is cancelled if it was told of."""
    held = " OR ".join(f"EXISTS ({_about(table)})" for table in HELD_BY)
    told = f"EXISTS ({_about('due')} AND kind = 'digest' AND done_at IS NOT NULL)"
    keep = await tx.value(f"SELECT 1 WHERE {held} OR {told}", id=session.id)
    if keep is not None:
        await cancel_session(tx, session.id, now, by_hand=False)
        return
    await tx.execute("DELETE FROM due WHERE session_id = :id", id=session.id)
    await tx.execute("DELETE FROM advice WHERE session_id = :id", id=session.id)
    await tx.execute("DELETE FROM session WHERE id = :id", id=session.id)


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
            moved_at = :now, by_hand_at = :now WHERE id = :id
        """,
        id=session.id,
        starts_at=write_moment(starts_at),
        ends_at=write_moment(ends_at),
        day=day.isoformat(),
        now=write_moment(now),
    )


async def put_back(
    tx: Transaction, session: Session, starts_at: datetime, ends_at: datetime, day: date
) -> None:
    """Put a session back to its own time, where the timetable may change it again."""
    await tx.execute(
        """
        UPDATE session SET starts_at = :starts_at, ends_at = :ends_at, local_day = :day,
            moved_at = NULL, by_hand_at = NULL WHERE id = :id
        """,
        id=session.id,
        starts_at=write_moment(starts_at),
        ends_at=write_moment(ends_at),
        day=day.isoformat(),
    )


async def cancel_session(
    tx: Transaction, session_id: str, now: datetime, *, by_hand: bool = True
) -> bool:
    """Call a session off, with everything that was due around it; false if it is off already."""
    cancelled = await tx.execute(
        """
        UPDATE session SET cancelled_at = :now,
            by_hand_at = CASE WHEN :by_hand = 1 THEN :now ELSE by_hand_at END
        WHERE id = :id AND cancelled_at IS NULL
        """,
        id=session_id,
        by_hand=int(by_hand),
        now=write_moment(now),
    )
    await drop_dues(tx, session_id, now)
    return cancelled > 0


async def restore_session(tx: Transaction, session_id: str) -> bool:
    """A cancelled session takes place after all; false if it wasn't cancelled."""
    restored = await tx.execute(
        """
        UPDATE session SET cancelled_at = NULL,
            by_hand_at = CASE
                WHEN moved_at IS NULL AND slot NOT LIKE '+%' THEN NULL ELSE by_hand_at END
        WHERE id = :id AND cancelled_at IS NOT NULL
        """,
        id=session_id,
    )
    return restored > 0


async def forget_letters(tx: Transaction, reason: str) -> None:
    """Let what begins with this reason be said anew; what is being sent just now stays."""
    await tx.execute(
        "DELETE FROM outbox WHERE id LIKE :reason AND state <> 'sending'", reason=f"{reason}%"
    )
    tx.wake(SETTLED)


def _about(table: str) -> str:
    return f"SELECT 1 FROM {table} WHERE session_id = :id"  # noqa: S608 - our own


def _renamed(session: Session) -> Session:
    return replace(session, id=name_row("session", session.id, "another"))
