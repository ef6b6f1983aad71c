"""Plan files that wait for a yes, since they would replace something."""

from dataclasses import dataclass
from datetime import datetime

from bot.storage.database import Transaction
from bot.storage.moments import write_moment
from bot.storage.names import name_row


@dataclass(frozen=True, slots=True, kw_only=True)
class Upload:
    """A plan file for a group that has one already."""

    id: str
    group_id: str
    document: str


async def put_upload(
    tx: Transaction, person_id: str, group_id: str, document: str, update_id: int, now: datetime
) -> str:
    """Keep a file until its sender says yes or no; returns the id for the buttons."""
    upload_id = name_row("upload", person_id, update_id)
    await tx.execute(
        """
        INSERT INTO upload (id, person_id, group_id, document, sent_at)
        VALUES (:id, :person_id, :group_id, :document, :now) ON CONFLICT (id) DO NOTHING
        """,
        id=upload_id,
        person_id=person_id,
        group_id=group_id,
        document=document,
        now=write_moment(now),
    )
    return upload_id


async def upload_of(tx: Transaction, upload_id: str, person_id: str) -> Upload | None:
    """The file with this id, if this person sent it and it still waits."""
    row = await tx.one(
        "SELECT * FROM upload WHERE id = :id AND person_id = :person_id",
        id=upload_id,
        person_id=person_id,
    )
    if row is None:
        return None
    return Upload(id=row["id"], group_id=row["group_id"], document=row["document"])


async def end_upload(tx: Transaction, upload_id: str) -> None:
    """It has been used or declined."""
    await tx.execute("DELETE FROM upload WHERE id = :id", id=upload_id)


async def forget_uploads(tx: Transaction, before: datetime) -> None:
    """Drop what was never answered."""
    await tx.execute("DELETE FROM upload WHERE sent_at < :before", before=write_moment(before))
