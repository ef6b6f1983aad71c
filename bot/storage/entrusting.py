"""Ways to lead a group or one of its classes: one-time links between instructors."""

from dataclasses import dataclass
from datetime import datetime

from bot.storage.database import Row, Transaction
from bot.storage.moments import read_moment, write_moment
from bot.storage.names import name_row
from core.roster import Trust


@dataclass(frozen=True, slots=True, kw_only=True)
class Entrusting:
    """A link that was given out."""

    id: str
    group_id: str
    given_by: str
    """The instructor who made it, by person id."""
    trust: Trust
    session_id: str | None
    """The class, for a substitute; else None."""
    expires_at: datetime


OPEN = """
    used_at IS NULL AND revoked_at IS NULL AND expires_at > :now
    AND EXISTS (
        SELECT 1 FROM leading WHERE leading.group_id = entrusting.group_id
        AND leading.person_id = entrusting.person_id
    )
"""
"""Whether a link opens anything: not if whoever gave it no longer leads."""


async def entrust(
    tx: Transaction,
    *,
    group_id: str,
    given_by: str,
    trust: Trust,
    session_id: str | None,
    fingerprint: str,
    now: datetime,
    until: datetime,
) -> None:
    """Let the first who has the code lead, until then."""
    await tx.execute(
        """
        INSERT INTO entrusting
            (id, fingerprint, group_id, person_id, kind, session_id, made_at, expires_at)
        VALUES (:id, :fingerprint, :group_id, :given_by, :kind, :session_id, :now, :until)
        """,
        id=name_row("entrusting", fingerprint),
        fingerprint=fingerprint,
        group_id=group_id,
        given_by=given_by,
        kind=trust.value,
        session_id=session_id,
        now=write_moment(now),
        until=write_moment(until),
    )


async def read_link(
    tx: Transaction, fingerprint: str, account: int, now: datetime
) -> Entrusting | None:
    """What a code opens now, read by this account from now on; None if it opens nothing."""
    row = await tx.one(
        f"""
        UPDATE entrusting SET account = :account WHERE fingerprint = :fingerprint AND {OPEN}
        RETURNING *
        """,  # noqa: S608 - our own
        fingerprint=fingerprint,
        account=account,
        now=write_moment(now),
    )
    return None if row is None else _entrusting(row)


async def being_read(
    tx: Transaction, entrusting_id: str, account: int, now: datetime
) -> Entrusting | None:
    """The open link with this id, if it is this account that reads what it means."""
    row = await tx.one(
        f"SELECT * FROM entrusting WHERE id = :id AND account = :account AND {OPEN}",  # noqa: S608
        id=entrusting_id,
        account=account,
        now=write_moment(now),
    )
    return None if row is None else _entrusting(row)


async def open_links(tx: Transaction, group_id: str, now: datetime) -> tuple[Entrusting, ...]:
    """The links of a group that open something now, oldest first."""
    rows = await tx.all(
        f"""
        SELECT * FROM entrusting WHERE group_id = :group_id AND {OPEN} ORDER BY made_at, id
        """,  # noqa: S608 - our own
        group_id=group_id,
        now=write_moment(now),
    )
    return tuple(map(_entrusting, rows))


async def gave_lately(
    tx: Transaction,
    group_id: str,
    person_id: str,
    trust: Trust,
    since: datetime,
    now: datetime,
    session_id: str = "",
) -> bool:
    """Whether they have made such a link since then, and it still opens something."""
    row = await tx.one(
        f"""
        SELECT 1 AS made FROM entrusting WHERE group_id = :group_id AND person_id = :person_id
            AND kind = :kind AND COALESCE(session_id, '') = :session_id
            AND made_at > :since AND {OPEN}
        """,  # noqa: S608 - our own
        group_id=group_id,
        person_id=person_id,
        kind=trust.value,
        session_id=session_id,
        since=write_moment(since),
        now=write_moment(now),
    )
    return row is not None


async def use_link(tx: Transaction, entrusting_id: str, now: datetime) -> None:
    """It has done what it was for, and does it no second time."""
    await tx.execute(
        "UPDATE entrusting SET used_at = :now, account = NULL WHERE id = :id",
        id=entrusting_id,
        now=write_moment(now),
    )


async def put_down_link(tx: Transaction, entrusting_id: str) -> None:
    """Whoever read it would rather not; the link stays open."""
    await tx.execute("UPDATE entrusting SET account = NULL WHERE id = :id", id=entrusting_id)


async def take_back_link(tx: Transaction, entrusting_id: str, group_id: str, now: datetime) -> bool:
    """Let a link of that group open nothing any more; false if it doesn't anyway."""
    taken = await tx.execute(
        f"""
        UPDATE entrusting SET revoked_at = :now, account = NULL
        WHERE id = :id AND group_id = :group_id AND {OPEN}
        """,  # noqa: S608 - our own
        id=entrusting_id,
        group_id=group_id,
        now=write_moment(now),
    )
    return taken > 0


async def forget_links(tx: Transaction, before: datetime) -> None:
    """Drop those that ended long ago."""
    await tx.execute(
        "DELETE FROM entrusting WHERE expires_at < :before", before=write_moment(before)
    )


def _entrusting(row: Row) -> Entrusting:
    return Entrusting(
        id=row["id"],
        group_id=row["group_id"],
        given_by=row["person_id"],
        trust=Trust(row["kind"]),
        session_id=row["session_id"],
        expires_at=read_moment(row["expires_at"]),
    )
