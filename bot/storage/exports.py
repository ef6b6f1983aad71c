"""Exports of a group's data that an instructor has asked for, until they are sent."""

from dataclasses import dataclass
from datetime import datetime

from bot.storage.database import Transaction
from bot.storage.moments import write_moment
from bot.storage.names import name_row
from bot.storage.sessions import Session, read_session


@dataclass(frozen=True, slots=True, kw_only=True)
class Export:
    """One export that isn't sent yet."""

    id: str
    group_id: str
    person_id: str


async def ask_export(
    tx: Transaction, group_id: str, person_id: str, reason: object, now: datetime
) -> Export:
    """Remember that this instructor wants the data of a group."""
    asked = Export(
        id=name_row("export", group_id, person_id, reason), group_id=group_id, person_id=person_id
    )
    await tx.execute(
        """
        INSERT INTO export (id, group_id, person_id, asked_at)
        VALUES (:id, :group_id, :person_id, :now) ON CONFLICT (id) DO NOTHING
        """,
        id=asked.id,
        group_id=group_id,
        person_id=person_id,
        now=write_moment(now),
    )
    return asked


async def waiting_exports(tx: Transaction, before: datetime) -> tuple[Export, ...]:
    """What was asked for by then and isn't sent, longest waiting first."""
    rows = await tx.all(
        "SELECT * FROM export WHERE done_at IS NULL AND asked_at <= :before ORDER BY asked_at, id",
        before=write_moment(before),
    )
    return tuple(
        Export(id=row["id"], group_id=row["group_id"], person_id=row["person_id"]) for row in rows
    )


async def is_waiting(tx: Transaction, export_id: str) -> bool:
    """Whether an export is still to be sent."""
    sql = "SELECT 1 FROM export WHERE id = :id AND done_at IS NULL"
    return await tx.value(sql, id=export_id) is not None


async def is_exporting(tx: Transaction, group_id: str, person_id: str) -> bool:
    """Whether one of this group is on its way to this instructor."""
    found = await tx.value(
        """
        SELECT 1 FROM export WHERE group_id = :group_id AND person_id = :person_id
        AND done_at IS NULL
        """,
        group_id=group_id,
        person_id=person_id,
    )
    return found is not None


async def end_export(tx: Transaction, export_id: str, now: datetime) -> None:
    """It is sent, or can't be."""
    await tx.execute(
        "UPDATE export SET done_at = :now WHERE id = :id AND done_at IS NULL",
        id=export_id,
        now=write_moment(now),
    )


async def forget_exports(tx: Transaction, before: datetime) -> None:
    """Drop what was asked for long ago."""
    await tx.execute("DELETE FROM export WHERE asked_at < :before", before=write_moment(before))


async def sessions_with_answers(
    tx: Transaction, group_id: str, after: Session | None, most: int
) -> tuple[Session, ...]:
    """The next classes of which something is known, in order; `after` is the last one seen."""
    rows = await tx.all(
        """
        SELECT * FROM session WHERE group_id = :group_id
        AND (:starts_at IS NULL OR starts_at > :starts_at OR (starts_at = :starts_at AND id > :id))
        AND (EXISTS (SELECT 1 FROM prompt WHERE prompt.session_id = session.id)
            OR EXISTS (SELECT 1 FROM attendance WHERE attendance.session_id = session.id)
            OR EXISTS (SELECT 1 FROM verdict WHERE verdict.session_id = session.id))
        ORDER BY starts_at, id LIMIT :most
        """,
        group_id=group_id,
        starts_at=None if after is None else write_moment(after.starts_at),
        id=None if after is None else after.id,
        most=most,
    )
    return tuple(map(read_session, rows))


async def count_answers(tx: Transaction, group_id: str) -> int:
    """How many answers a group's members have given."""
    count: int = await tx.value(
        """
        SELECT count(*) FROM answer JOIN prompt ON prompt.id = prompt_id
        JOIN session ON session.id = prompt.session_id WHERE session.group_id = :group_id
        """,
        group_id=group_id,
    )
    return count


async def plans_of_group(tx: Transaction, group_id: str) -> list[dict[str, str]]:
    """Every plan file that a group had, oldest first, with the moment from which on it held."""
    rows = await tx.all(
        "SELECT made_at, document FROM plan WHERE group_id = :id ORDER BY made_at, id", id=group_id
    )
    return [{"made_at": row["made_at"], "document": row["document"]} for row in rows]
