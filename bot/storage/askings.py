"""Members who are asked or reminded at a moment of their own, instead of with everyone."""

from dataclasses import dataclass
from datetime import datetime

from bot.storage.database import Transaction
from bot.storage.dues import Occasion
from bot.storage.moments import read_moment, round_up, write_moment


@dataclass(frozen=True, slots=True, kw_only=True)
class Asking:
    """One member is to be asked about one class, or reminded of it, once."""

    occasion: Occasion
    session_id: str
    person_id: str
    at: datetime
    not_after: datetime


async def put_asking(tx: Transaction, asking: Asking) -> None:
    """Note it; what is known already stays as it is."""
    await tx.execute(
        """
        INSERT INTO asking (kind, session_id, person_id, at, not_after)
        VALUES (:kind, :session_id, :person_id, :at, :not_after)
        ON CONFLICT (kind, session_id, person_id) DO NOTHING
        """,
        kind=asking.occasion.value,
        session_id=asking.session_id,
        person_id=asking.person_id,
        at=write_moment(round_up(asking.at)),
        not_after=write_moment(asking.not_after),
    )


async def askings_now(tx: Transaction, now: datetime) -> tuple[Asking, ...]:
    """Whom to ask or remind now, longest due first."""
    rows = await tx.all(
        """
        SELECT * FROM asking WHERE at <= :now AND ended_at IS NULL
        ORDER BY at, session_id, person_id, kind
        """,
        now=write_moment(now),
    )
    return tuple(
        Asking(
            occasion=Occasion(row["kind"]),
            session_id=row["session_id"],
            person_id=row["person_id"],
            at=read_moment(row["at"]),
            not_after=read_moment(row["not_after"]),
        )
        for row in rows
    )


async def end_asking(tx: Transaction, asking: Asking, now: datetime) -> bool:
    """It is done, or knowingly left out; false if it was before."""
    ended = await tx.execute(
        """
        UPDATE asking SET ended_at = :now WHERE kind = :kind AND session_id = :session_id
        AND person_id = :person_id AND ended_at IS NULL
        """,
        kind=asking.occasion.value,
        session_id=asking.session_id,
        person_id=asking.person_id,
        now=write_moment(now),
    )
    return ended > 0


async def forget_askings(tx: Transaction, before: datetime) -> None:
    """Drop what ended long ago."""
    await tx.execute("DELETE FROM asking WHERE ended_at < :before", before=write_moment(before))
