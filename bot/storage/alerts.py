"""Alerts that were raised, and what became of them."""

from dataclasses import dataclass
from datetime import datetime

from pydantic import TypeAdapter

from bot.storage.database import Row, Transaction
from bot.storage.moments import read_maybe, read_moment, write_maybe, write_moment
from bot.storage.names import name_row
from core.alert import Alert
from core.rules import ALERT_AGAIN

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
    raised_at: datetime
    cleared_at: datetime | None = None
    """When an instructor had dealt with it."""
    cleared_by: str | None = None
    note: str | None = None
    """What they wrote when they cleared it."""

    @property
    def open(self) -> bool:
        """Whether it holds and nobody has dealt with it."""
        return self.resolved_at is None and self.cleared_at is None


def alert_id(group_id: str, alert: Alert) -> str:
    """The id that one cause has, however often it is found."""
    return name_row("alert", group_id, alert.member, alert.kind, *alert.cause)


async def raise_alert(
    tx: Transaction, group_id: str, alert: Alert, symptom_id: str | None, now: datetime
) -> bool:
    """Store an alert or what is new about it; false if all of it was known."""
    changed = await tx.value(
        """
        INSERT INTO alert (id, group_id, person_id, kind, document, symptom_id, raised_at, again_at)
        VALUES (:id, :group_id, :person_id, :kind, :document, :symptom_id, :now, :again)
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
        again=write_moment(now + ALERT_AGAIN) if alert.urgent else None,
    )
    return changed is not None


async def alert(tx: Transaction, alert_id: str) -> StoredAlert | None:
    """The alert with this id."""
    row = await tx.one("SELECT * FROM alert WHERE id = :id", id=alert_id)
    return None if row is None else _stored(row)


async def unresolved_alerts(
    tx: Transaction, group_id: str, member: str | None = None
) -> tuple[StoredAlert, ...]:
    """What was raised in a group, or about one of its members, and still holds, oldest first.

    What an instructor has cleared is among them as long as the history says so.
    """
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


async def open_alerts(tx: Transaction, group_id: str) -> tuple[StoredAlert, ...]:
    """What holds in a group and no instructor has dealt with, oldest first."""
    found = await unresolved_alerts(tx, group_id)
    return tuple(each for each in found if each.open)


async def acknowledge(tx: Transaction, alert_id: str, person_id: str, now: datetime) -> None:
    """An instructor has seen it."""
    await tx.execute(
        """
        UPDATE alert SET acknowledged_at = :now, acknowledged_by = :person_id, again_at = NULL
        WHERE id = :id AND acknowledged_at IS NULL
        """,
        id=alert_id,
        person_id=person_id,
        now=write_moment(now),
    )


async def resolve(tx: Transaction, alert_id: str, now: datetime) -> None:
    """The history no longer says so, or its symptom was cleared."""
    await tx.execute(
        """
        UPDATE alert SET resolved_at = :now, again_at = NULL
        WHERE id = :id AND resolved_at IS NULL
        """,
        id=alert_id,
        now=write_moment(now),
    )


async def clear_alert(
    tx: Transaction, alert_id: str, person_id: str, note: str | None, now: datetime
) -> None:
    """An instructor has dealt with it, and says so in a note or without one."""
    await acknowledge(tx, alert_id, person_id, now)
    await tx.execute(
        """
        UPDATE alert SET cleared_at = :now, cleared_by = :person_id, note = :note
        WHERE id = :id AND cleared_at IS NULL
        """,
        id=alert_id,
        person_id=person_id,
        note=note,
        now=write_moment(now),
    )


async def open_again(tx: Transaction, alert_id: str) -> None:
    """Clearing it was a mistake."""
    await tx.execute(
        "UPDATE alert SET cleared_at = NULL, cleared_by = NULL, note = NULL WHERE id = :id",
        id=alert_id,
    )


async def alerts_to_repeat(tx: Transaction, now: datetime) -> tuple[StoredAlert, ...]:
    """Urgent ones whose time has come once more, since nobody has marked them as seen."""
    rows = await tx.all(
        "SELECT * FROM alert WHERE again_at <= :now ORDER BY again_at, id", now=write_moment(now)
    )
    return tuple(map(_stored, rows))


async def repeat_at(tx: Transaction, alert_id: str, at: datetime | None) -> None:
    """Put off when it comes once more; None: it has, and comes no more."""
    await tx.execute(
        "UPDATE alert SET again_at = :at WHERE id = :id", id=alert_id, at=write_maybe(at)
    )


async def put_note(tx: Transaction, alert_id: str, note: str) -> None:
    """Keep what an instructor wrote about it; a later note replaces it."""
    await tx.execute("UPDATE alert SET note = :note WHERE id = :id", id=alert_id, note=note)


async def letters(tx: Transaction, first: str) -> tuple[str, ...]:
    """The letters that told an instructor of an alert: the first one, and the one that came again.

    Both may have been pruned, or never have been.
    """
    rows = await tx.all(
        "SELECT id FROM outbox WHERE id IN (:first, :again) ORDER BY sequence",
        first=first,
        again=f"{first}/again",
    )
    return tuple(row["id"] for row in rows)


async def is_letter(tx: Transaction, ids: tuple[str, ...], message_id: int) -> bool:
    """Whether one of these letters became that message."""
    for each in ids:
        found = await tx.value("SELECT message_id FROM outbox WHERE id = :id", id=each)
        if found == message_id:
            return True
    return False


def _stored(row: Row) -> StoredAlert:
    return StoredAlert(
        id=row["id"],
        group_id=row["group_id"],
        fact=_ALERT.validate_json(row["document"]),
        symptom_id=row["symptom_id"],
        acknowledged_at=read_maybe(row["acknowledged_at"]),
        acknowledged_by=row["acknowledged_by"],
        raised_at=read_moment(row["raised_at"]),
        resolved_at=read_maybe(row["resolved_at"]),
        cleared_at=read_maybe(row["cleared_at"]),
        cleared_by=row["cleared_by"],
        note=row["note"],
    )
