"""What hurt or felt wrong, and whether it still holds."""

from dataclasses import dataclass
from datetime import date, datetime

from bot.storage.database import Row, Transaction
from bot.storage.moments import read_maybe, read_moment, write_moment
from core.reports import Symptom, SymptomKind


@dataclass(frozen=True, slots=True, kw_only=True)
class StoredSymptom:
    """A symptom with the id that buttons name and the group it was reported in."""

    id: str
    group_id: str
    fact: Symptom


async def put_symptom(tx: Transaction, stored: StoredSymptom) -> None:
    """Keep a symptom; reporting it again with the same id opens it again."""
    fact = stored.fact
    await tx.execute(
        """
        INSERT INTO symptom
            (id, group_id, person_id, session_id, kind, movement, said_on, said_at)
        VALUES (:id, :group_id, :person_id, :session_id, :kind, :movement, :said_on, :said_at)
        ON CONFLICT (id) DO UPDATE
        SET kind = excluded.kind, movement = excluded.movement, said_at = excluded.said_at,
            withdrawn_at = NULL, cleared_by_member = NULL, cleared_by_instructor = NULL
        """,
        id=stored.id,
        group_id=stored.group_id,
        person_id=fact.member,
        session_id=fact.session,
        kind=fact.kind.value,
        movement=fact.movement,
        said_on=fact.on.isoformat(),
        said_at=write_moment(fact.said_at),
    )


async def withdraw_symptom(tx: Transaction, symptom_id: str, now: datetime) -> None:
    """The member corrected their answer: it never was."""
    await tx.execute(
        "UPDATE symptom SET withdrawn_at = :now WHERE id = :id AND withdrawn_at IS NULL",
        id=symptom_id,
        now=write_moment(now),
    )


async def symptom(tx: Transaction, symptom_id: str) -> StoredSymptom | None:
    """The symptom with this id, unless it was withdrawn."""
    row = await tx.one(
        "SELECT * FROM symptom WHERE id = :id AND withdrawn_at IS NULL", id=symptom_id
    )
    return None if row is None else _stored(row)


async def symptoms_of_group(
    tx: Transaction, group_id: str, member: str | None = None
) -> tuple[StoredSymptom, ...]:
    """Everything that was reported in a group, or by one of its members, and not withdrawn."""
    rows = await tx.all(
        """
        SELECT * FROM symptom WHERE group_id = :group_id AND withdrawn_at IS NULL
        AND (:member IS NULL OR person_id = :member)
        ORDER BY said_at, id
        """,
        group_id=group_id,
        member=member,
    )
    return tuple(map(_stored, rows))


async def clear_for_member(tx: Transaction, symptom_id: str, now: datetime) -> None:
    """The member says it is gone."""
    await tx.execute(
        """
        UPDATE symptom SET cleared_by_member = :now
        WHERE id = :id AND cleared_by_member IS NULL
        """,
        id=symptom_id,
        now=write_moment(now),
    )


async def clear_for_instructor(tx: Transaction, symptom_id: str, now: datetime) -> None:
    """An instructor agrees that it is gone."""
    await tx.execute(
        """
        UPDATE symptom SET cleared_by_instructor = :now
        WHERE id = :id AND cleared_by_instructor IS NULL
        """,
        id=symptom_id,
        now=write_moment(now),
    )


def _stored(row: Row) -> StoredSymptom:
    fact = Symptom(
        member=row["person_id"],
        kind=SymptomKind(row["kind"]),
        on=date.fromisoformat(row["said_on"]),
        said_at=read_moment(row["said_at"]),
        session=row["session_id"],
        movement=row["movement"],
        cleared_by_member=read_maybe(row["cleared_by_member"]),
        cleared_by_instructor=read_maybe(row["cleared_by_instructor"]),
    )
    return StoredSymptom(id=row["id"], group_id=row["group_id"], fact=fact)
