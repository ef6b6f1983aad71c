"""Alerts that were raised, and what became of them."""

from dataclasses import dataclass
from datetime import datetime

from pydantic import TypeAdapter

from bot.storage.database import Row, Transaction
from bot.storage.moments import read_maybe, write_moment
from bot.storage.names import name_row
from core.watching import Alert

_ALERT = TypeAdapter(Alert)


@dataclass(frozen=True, slots=True, kw_only=True)
class StoredAlert:
    """An alert with the id that buttons name."""

    id: str
    group_id: str
    fact: Alert
    symptom_id: str | None
    """The symptom it is about; None for what was found in ratings."""
    acknowledged_at: datetime | None
    acknowledged_by: str | None
    """The instructor who has seen it, by person id."""
    resolved_at: datetime | None


def alert_id(group_id: str, alert: Alert) -> str:
    """The id that one cause has, however often it is found."""
    return name_row("alert", group_id, alert.member, alert.kind, *alert.cause)


async def raise_alert(
    tx: Transaction, group_id: str, alert: Alert, symptom_id: str | None, now: datetime
) -> bool:
    """Store an alert or what is new about it; false if all of it was known."""
    changed = await tx.value(
        """
        INSERT INTO alert (id, group_id, person_id, kind, document, symptom_id, raised_at)
        VALUES (:id, :group_id, :person_id, :kind, :document, :symptom_id, :now)
        ON CONFLICT (id) DO UPDATE SET document = excluded.document, resolved_at = NULL
        WHERE alert.document <> excluded.document OR alert.resolved_at IS NOT NULL
        RETURNING id
        """,
        id=alert_id(group_id, alert),
        group_id=group_id,
        person_id=alert.member,
        kind=alert.kind.value,
        document=_ALERT.dump_json(alert).decode(),
        symptom_id=symptom_id,
        now=write_moment(now),
    )
    return changed is not None


async def alert(tx: Transaction, alert_id: str) -> StoredAlert | None:
    """The alert with this id."""
    row = await tx.one("SELECT * FROM alert WHERE id = :id", id=alert_id)
    return None if row is None else _stored(row)


async def unresolved_alerts(
    tx: Transaction, group_id: str, member: str | None = None
) -> tuple[StoredAlert, ...]:
    """What was raised in a group, or about one of its members, and still holds, oldest first."""
    rows = await tx.all(
        """
        SELECT * FROM alert WHERE group_id = :group_id AND resolved_at IS NULL
        AND (:member IS NULL OR person_id = :member)
        ORDER BY raised_at, id
        """,
        group_id=group_id,
        member=member,
    )
    return tuple(map(_stored, rows))


async def acknowledge(tx: Transaction, alert_id: str, person_id: str, now: datetime) -> None:
    """An instructor has seen it."""
    await tx.execute(
        """
        UPDATE alert SET acknowledged_at = :now, acknowledged_by = :person_id
        WHERE id = :id AND acknowledged_at IS NULL
        """,
        id=alert_id,
        person_id=person_id,
        now=write_moment(now),
    )


async def resolve(tx: Transaction, alert_id: str, now: datetime) -> None:
    """The history no longer says so, or its symptom was cleared."""
    await tx.execute(
        "UPDATE alert SET resolved_at = :now WHERE id = :id AND resolved_at IS NULL",
        id=alert_id,
        now=write_moment(now),
    )


def _stored(row: Row) -> StoredAlert:
    return StoredAlert(
        id=row["id"],
        group_id=row["group_id"],
        fact=_ALERT.validate_json(row["document"]),
        symptom_id=row["symptom_id"],
        acknowledged_at=read_maybe(row["acknowledged_at"]),
        acknowledged_by=row["acknowledged_by"],
        resolved_at=read_maybe(row["resolved_at"]),
    )
