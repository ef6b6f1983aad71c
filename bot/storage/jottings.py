"""What an instructor is about to type: a name for a member, a note, or whom they invite."""

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from bot.storage.database import Transaction
from bot.storage.dialogues import stop_typing
from bot.storage.moments import write_moment


class JottingKind(StrEnum):
    """What is typed."""

    NAME = "name"
    """What this group's instructors call a member."""
    NOTE = "note"
    INVITE = "invite"
    """Whom a link for one person is for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Jotting:
    """Something that an instructor is about to type."""

    kind: JottingKind
    group_id: str
    about: str | None
    """The member, by person id; None for an invite."""


async def begin_jotting(tx: Transaction, person_id: str, jotting: Jotting, now: datetime) -> None:
    """From now on, what this instructor types is this; nothing else that they were typing is."""
    await stop_typing(tx, person_id)
    await tx.execute(
        """
        INSERT INTO jotting (person_id, kind, group_id, about, asked_at)
        VALUES (:person_id, :kind, :group_id, :about, :now)
        ON CONFLICT (person_id) DO UPDATE SET kind = excluded.kind,
            group_id = excluded.group_id, about = excluded.about, asked_at = excluded.asked_at
        """,
        person_id=person_id,
        kind=jotting.kind.value,
        group_id=jotting.group_id,
        about=jotting.about,
        now=write_moment(now),
    )


async def jotting_of(tx: Transaction, person_id: str) -> Jotting | None:
    """What this person is about to type; None if it is nothing of the kind."""
    row = await tx.one("SELECT * FROM jotting WHERE person_id = :id", id=person_id)
    if row is None:
        return None
    return Jotting(kind=JottingKind(row["kind"]), group_id=row["group_id"], about=row["about"])


async def end_jotting(tx: Transaction, person_id: str) -> None:
    """It was typed, or won't be."""
    await tx.execute("DELETE FROM jotting WHERE person_id = :id", id=person_id)
