"""Instructors who were asked for a note about an alert: what they type next is it."""

from datetime import datetime

from bot.storage.database import Transaction
from bot.storage.dialogues import stop_typing
from bot.storage.moments import write_moment


async def ask_for_note(tx: Transaction, person_id: str, alert_id: str, now: datetime) -> None:
    """From now on what this person types is the note, until something newer is on screen."""
    await stop_typing(tx, person_id)
    await tx.execute(
        """
        INSERT INTO alert_noting (person_id, alert_id, asked_at)
        VALUES (:person_id, :alert_id, :now)
        ON CONFLICT (person_id) DO UPDATE
        SET alert_id = excluded.alert_id, asked_at = excluded.asked_at
        """,
        person_id=person_id,
        alert_id=alert_id,
        now=write_moment(now),
    )


async def noted_alert(tx: Transaction, person_id: str) -> str | None:
    """The alert whose note this person is asked for; None if they aren't."""
    found = await tx.value(
        "SELECT alert_id FROM alert_noting WHERE person_id = :person_id", person_id=person_id
    )
    return None if found is None else str(found)


async def end_noting(tx: Transaction, person_id: str) -> None:
    """They have written it, or don't want to."""
    await tx.execute("DELETE FROM alert_noting WHERE person_id = :person_id", person_id=person_id)


async def forget_notings(tx: Transaction, before: datetime) -> None:
    """Drop what nobody wrote."""
    await tx.execute("DELETE FROM alert_noting WHERE asked_at < :at", at=write_moment(before))
