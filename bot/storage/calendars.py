"""Timetables from calendar files, and files whose sender is being asked about them."""

from dataclasses import dataclass
from datetime import datetime

from bot.storage.database import Row, Transaction
from bot.storage.moments import write_moment
from bot.storage.names import name_row


@dataclass(frozen=True, slots=True, kw_only=True)
class CalendarUpload:
    """A calendar file that waits for an answer."""

    id: str
    group_id: str | None
    """None while it isn't known whose timetable it is."""
    document: str


async def put_calendar(
    tx: Transaction, group_id: str, document: str, instead_of: str, now: datetime
) -> None:
    """Let this be the group's timetable, instead of the times that its plan names now."""
    await tx.execute(
        """
        INSERT INTO calendar (group_id, document, instead_of, taken_at)
        VALUES (:group_id, :document, :instead_of, :now)
        ON CONFLICT (group_id) DO UPDATE SET document = excluded.document,
            instead_of = excluded.instead_of, taken_at = excluded.taken_at
        """,
        group_id=group_id,
        document=document,
        instead_of=instead_of,
        now=write_moment(now),
    )


async def calendar_document(tx: Transaction, group_id: str, instead_of: str) -> str | None:
    """The calendar that counts for a group whose plan names these times; None if the plan does."""
    document: str | None = await tx.value(
        """
        SELECT document FROM calendar WHERE group_id = :group_id AND instead_of = :instead_of
        """,
        group_id=group_id,
        instead_of=instead_of,
    )
    return document


async def latest_document(tx: Transaction, group_id: str) -> str | None:
    """The calendar that was taken last, whether it still counts or not."""
    document: str | None = await tx.value(
        "SELECT document FROM calendar WHERE group_id = :group_id", group_id=group_id
    )
    return document


async def put_upload(
    tx: Transaction,
    person_id: str,
    group_id: str | None,
    document: str,
    update_id: int,
    now: datetime,
) -> str:
    """Keep a file until its sender has answered; an older one of theirs goes. Returns its id."""
    upload_id = name_row("calendar", person_id, update_id)
    await tx.execute("DELETE FROM calendar_upload WHERE person_id = :id", id=person_id)
    await tx.execute(
        """
        INSERT INTO calendar_upload (id, person_id, group_id, document, sent_at)
        VALUES (:id, :person_id, :group_id, :document, :now)
        """,
        id=upload_id,
        person_id=person_id,
        group_id=group_id,
        document=document,
        now=write_moment(now),
    )
    return upload_id


async def upload_of(tx: Transaction, upload_id: str, person_id: str) -> CalendarUpload | None:
    """The file with this id, if this person sent it and it still waits."""
    row = await tx.one(
        "SELECT * FROM calendar_upload WHERE id = :id AND person_id = :person_id",
        id=upload_id,
        person_id=person_id,
    )
    return None if row is None else _upload(row)


async def narrow_upload(
    tx: Transaction, upload_id: str, group_id: str, document: str | None = None
) -> None:
    """It is this group's timetable, or only as much of it as the document says."""
    await tx.execute(
        """
        UPDATE calendar_upload SET group_id = :group_id,
            document = COALESCE(:document, document) WHERE id = :id
        """,
        id=upload_id,
        group_id=group_id,
        document=document,
    )


async def end_upload(tx: Transaction, upload_id: str) -> None:
    """It has been taken over or declined."""
    await tx.execute("DELETE FROM calendar_upload WHERE id = :id", id=upload_id)


async def forget_uploads(tx: Transaction, before: datetime) -> None:
    """Drop what was never answered."""
    await tx.execute(
        "DELETE FROM calendar_upload WHERE sent_at < :before", before=write_moment(before)
    )


def _upload(row: Row) -> CalendarUpload:
    return CalendarUpload(id=row["id"], group_id=row["group_id"], document=row["document"])
