"""Plans in progress: one new group and one changed plan for each instructor."""

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from bot.storage.database import Row, Transaction
from bot.storage.dialogues import stop_typing
from bot.storage.moments import write_moment
from bot.storage.names import name_row


class DraftKind(StrEnum):
    """What becomes of it."""

    SETUP = "setup"
    """A new group."""
    CHANGE = "change"
    """Another plan for a group that exists."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StoredDraft:
    """A plan in progress, as it was when it was last touched."""

    id: str
    person_id: str
    kind: DraftKind
    group_id: str | None
    """Whose plan it changes; None for a new group."""
    plan_id: str | None
    """The plan that it began with; None for a new group."""
    document: str
    step: str
    """What is on screen."""


async def begin_draft(
    tx: Transaction,
    person_id: str,
    kind: DraftKind,
    document: str,
    step: str,
    reason: int,
    now: datetime,
    *,
    group_id: str | None = None,
    plan_id: str | None = None,
) -> StoredDraft:
    """Begin anew; an older draft of that kind is forgotten."""
    draft = StoredDraft(
        id=name_row("draft", person_id, kind.value, reason),
        person_id=person_id,
        kind=kind,
        group_id=group_id,
        plan_id=plan_id,
        document=document,
        step=step,
    )
    await tx.execute(
        "DELETE FROM draft WHERE person_id = :person_id AND kind = :kind",
        person_id=person_id,
        kind=kind.value,
    )
    await tx.execute(
        """
        INSERT INTO draft (id, person_id, kind, group_id, plan_id, document, step, changed_at)
        VALUES (:id, :person_id, :kind, :group_id, :plan_id, :document, :step, :now)
        """,
        id=draft.id,
        person_id=person_id,
        kind=kind.value,
        group_id=group_id,
        plan_id=plan_id,
        document=document,
        step=step,
        now=write_moment(now),
    )
    return draft


async def keep_draft(
    tx: Transaction, draft: StoredDraft, now: datetime, *, typing: bool = True
) -> None:
    """What it is now; from here on what its owner types is for it, if `typing`."""
    await stop_typing(tx, draft.person_id)
    await tx.execute(
        """
        UPDATE draft SET document = :document, step = :step, plan_id = :plan_id,
            typing_since = CASE WHEN :typing = 1 THEN :now END, changed_at = :now
        WHERE id = :id
        """,
        id=draft.id,
        document=draft.document,
        step=draft.step,
        plan_id=draft.plan_id,
        typing=int(typing),
        now=write_moment(now),
    )


async def draft_of(tx: Transaction, draft_id: str, person_id: str) -> StoredDraft | None:
    """The draft with this id, if it is this person's and still there."""
    row = await tx.one(
        "SELECT * FROM draft WHERE id = :id AND person_id = :person_id",
        id=draft_id,
        person_id=person_id,
    )
    return None if row is None else _draft(row)


async def open_draft(tx: Transaction, person_id: str, kind: DraftKind) -> StoredDraft | None:
    """What this person has begun of that kind; None if nothing."""
    row = await tx.one(
        "SELECT * FROM draft WHERE person_id = :person_id AND kind = :kind",
        person_id=person_id,
        kind=kind.value,
    )
    return None if row is None else _draft(row)


async def typed_draft(tx: Transaction, person_id: str) -> StoredDraft | None:
    """The draft that what this person types is for; None if it is for something else."""
    row = await tx.one(
        "SELECT * FROM draft WHERE person_id = :person_id AND typing_since IS NOT NULL",
        person_id=person_id,
    )
    return None if row is None else _draft(row)


async def end_draft(tx: Transaction, draft_id: str) -> None:
    """It has become true, or was thrown away."""
    await tx.execute("DELETE FROM draft WHERE id = :id", id=draft_id)


async def forget_drafts(tx: Transaction, before: datetime) -> None:
    """Drop what was left alone for long."""
    await tx.execute("DELETE FROM draft WHERE changed_at < :before", before=write_moment(before))


def _draft(row: Row) -> StoredDraft:
    return StoredDraft(
        id=row["id"],
        person_id=row["person_id"],
        kind=DraftKind(row["kind"]),
        group_id=row["group_id"],
        plan_id=row["plan_id"],
        document=row["document"],
        step=row["step"],
    )
