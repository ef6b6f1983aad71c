"""Notes that a group's instructors keep about a member."""

from dataclasses import dataclass
from datetime import datetime

from bot.storage.database import Row, Transaction
from bot.storage.moments import read_moment, write_moment
from bot.storage.names import name_row

LONGEST_NOTE = 500
"""Characters; a note is read in passing, before class."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """One note, with the id that buttons name."""

    id: str
    text: str
    written_at: datetime


async def put_note(
    tx: Transaction,
    group_id: str,
    about: str,
    text: str,
    *,
    by: str,
    reason: object,
    now: datetime,
) -> None:
    """Keep a note about a member; the same reason keeps it once."""
    await tx.execute(
        """
        INSERT INTO note (id, group_id, person_id, written_by, text, written_at)
        VALUES (:id, :group_id, :about, :by, :text, :now) ON CONFLICT (id) DO NOTHING
        """,
        id=name_row("note", group_id, about, reason),
        group_id=group_id,
        about=about,
        by=by,
        text=text,
        now=write_moment(now),
    )


async def notes_about(tx: Transaction, group_id: str, person_id: str) -> tuple[Note, ...]:
    """What a group's instructors keep about a member, newest first."""
    rows = await tx.all(
        """
        SELECT * FROM note WHERE group_id = :group_id AND person_id = :person_id
        ORDER BY written_at DESC, id
        """,
        group_id=group_id,
        person_id=person_id,
    )
    return tuple(map(_note, rows))


async def note_about(tx: Transaction, note_id: str, group_id: str, person_id: str) -> Note | None:
    """The note with this id, if it is about that member of that group."""
    row = await tx.one(
        "SELECT * FROM note WHERE id = :id AND group_id = :group_id AND person_id = :person_id",
        id=note_id,
        group_id=group_id,
        person_id=person_id,
    )
    return None if row is None else _note(row)


async def erase_note(tx: Transaction, note_id: str) -> None:
    """Forget it for good."""
    await tx.execute("DELETE FROM note WHERE id = :id", id=note_id)


def _note(row: Row) -> Note:
    return Note(id=row["id"], text=row["text"], written_at=read_moment(row["written_at"]))
