"""Who wants to be left in peace for a while: no prompts and no reminders."""

from dataclasses import dataclass
from datetime import datetime

from bot.storage.database import Transaction
from bot.storage.moments import read_maybe, write_maybe, write_moment
from bot.storage.names import name_row


@dataclass(frozen=True, slots=True, kw_only=True)
class Pause:
    """A pause that holds now."""

    id: str
    ends_at: datetime | None
    """None: when they say so."""


async def begin_pause(
    tx: Transaction, person_id: str, ends_at: datetime | None, now: datetime
) -> Pause:
    """Leave them in peace from now on; a pause they had is replaced."""
    pause_id = name_row("pause", person_id, write_moment(now), write_maybe(ends_at))
    await tx.execute(
        """
        INSERT INTO pause (person_id, id, since, ends_at) VALUES (:person_id, :id, :now, :ends_at)
        ON CONFLICT (person_id) DO UPDATE SET id = excluded.id, ends_at = excluded.ends_at
        """,
        person_id=person_id,
        id=pause_id,
        now=write_moment(now),
        ends_at=write_maybe(ends_at),
    )
    return Pause(id=pause_id, ends_at=ends_at)


async def pause_of(tx: Transaction, person_id: str, now: datetime) -> Pause | None:
    """This person's pause, if they have one now."""
    row = await tx.one(
        """
        SELECT * FROM pause WHERE person_id = :person_id AND (ends_at IS NULL OR ends_at > :now)
        """,
        person_id=person_id,
        now=write_moment(now),
    )
    return None if row is None else Pause(id=row["id"], ends_at=read_maybe(row["ends_at"]))


async def end_pause(tx: Transaction, person_id: str) -> None:
    """They are back."""
    await tx.execute("DELETE FROM pause WHERE person_id = :person_id", person_id=person_id)


async def paused_members(tx: Transaction, group_id: str, now: datetime) -> frozenset[str]:
    """The members of a group who pause now, by person id."""
    rows = await tx.all(
        """
        SELECT pause.person_id FROM pause
        JOIN membership ON membership.person_id = pause.person_id
        WHERE membership.group_id = :group_id AND membership.left_at IS NULL
        AND (pause.ends_at IS NULL OR pause.ends_at > :now)
        """,
        group_id=group_id,
        now=write_moment(now),
    )
    return frozenset(row["person_id"] for row in rows)


async def forget_pauses(tx: Transaction, now: datetime) -> None:
    """Drop those that are over."""
    await tx.execute("DELETE FROM pause WHERE ends_at <= :now", now=write_moment(now))
