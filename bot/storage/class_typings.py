"""Instructors who are about to type when a class is to be."""

from dataclasses import dataclass
from datetime import datetime

from bot.storage.database import Transaction
from bot.storage.moments import write_moment


@dataclass(frozen=True, slots=True, kw_only=True)
class ClassTyping:
    """What the next thing that an instructor types is about."""

    group_id: str
    session_id: str | None
    """The class to move; None for one to add."""


async def expect_typing(
    tx: Transaction, person_id: str, group_id: str, session_id: str | None, now: datetime
) -> None:
    """Take what this person types next for the time of a class."""
    await tx.execute(
        """
        INSERT INTO class_typing (person_id, group_id, session_id, asked_at)
        VALUES (:person_id, :group_id, :session_id, :now)
        ON CONFLICT (person_id) DO UPDATE SET group_id = excluded.group_id,
            session_id = excluded.session_id, asked_at = excluded.asked_at
        """,
        person_id=person_id,
        group_id=group_id,
        session_id=session_id,
        now=write_moment(now),
    )


async def expected_typing(tx: Transaction, person_id: str) -> ClassTyping | None:
    """What this person is about to type; None if it isn't the time of a class."""
    row = await tx.one("SELECT * FROM class_typing WHERE person_id = :id", id=person_id)
    if row is None:
        return None
    return ClassTyping(group_id=row["group_id"], session_id=row["session_id"])


async def end_typing(tx: Transaction, person_id: str) -> bool:
    """What this person types next is for something else; false if it was anyway."""
    ended = await tx.execute("DELETE FROM class_typing WHERE person_id = :id", id=person_id)
    return ended > 0


async def forget_typings(tx: Transaction, before: datetime) -> None:
    """Drop what nobody typed."""
    await tx.execute(
        "DELETE FROM class_typing WHERE asked_at < :before", before=write_moment(before)
    )
