"""What each member was told to do in a session, as it was when it was told."""

from collections.abc import Iterable
from datetime import datetime

from pydantic import TypeAdapter

from bot.storage.database import Transaction
from bot.storage.moments import write_moment
from core.suggestion import Suggestion

_SUGGESTIONS = TypeAdapter(tuple[Suggestion, ...])


async def keep_advice(
    tx: Transaction, session_id: str, called: Iterable[Suggestion], now: datetime
) -> None:
    """Freeze what each member is told for this session; a later call replaces it."""
    per_member: dict[str, list[Suggestion]] = {}
    for each in called:
        per_member.setdefault(each.member, []).append(each)
    for member, suggestions in per_member.items():
        await tx.execute(
            """
            INSERT INTO advice (session_id, person_id, document, made_at)
            VALUES (:session_id, :person_id, :document, :now)
            ON CONFLICT (session_id, person_id) DO UPDATE
            SET document = excluded.document, made_at = excluded.made_at
            """,
            session_id=session_id,
            person_id=member,
            document=_SUGGESTIONS.dump_json(tuple(suggestions), exclude_none=True).decode(),
            now=write_moment(now),
        )


async def kept_advice(
    tx: Transaction, session_id: str, person_id: str
) -> tuple[Suggestion, ...] | None:
    """What this member was told for that session; None if nothing was frozen."""
    document = await tx.value(
        "SELECT document FROM advice WHERE session_id = :session_id AND person_id = :person_id",
        session_id=session_id,
        person_id=person_id,
    )
    return None if document is None else _SUGGESTIONS.validate_json(document)


async def all_kept_advice(tx: Transaction, session_id: str) -> dict[str, tuple[Suggestion, ...]]:
    """What everyone was told for that session, by person."""
    rows = await tx.all(
        "SELECT person_id, document FROM advice WHERE session_id = :session_id",
        session_id=session_id,
    )
    return {row["person_id"]: _SUGGESTIONS.validate_json(row["document"]) for row in rows}


async def forget_advice(tx: Transaction, person_id: str, now: datetime) -> None:
    """Let what this member is told be worked out afresh for every class that isn't over."""
    await tx.execute(
        """
        DELETE FROM advice WHERE person_id = :person_id
        AND EXISTS (
            SELECT 1 FROM session WHERE session.id = advice.session_id AND session.ends_at > :now
        )
        """,
        person_id=person_id,
        now=write_moment(now),
    )


async def prune_advice(tx: Transaction, before: datetime) -> None:
    """Drop what was told long ago; what was done is in the prompts."""
    await tx.execute("DELETE FROM advice WHERE made_at < :before", before=write_moment(before))
