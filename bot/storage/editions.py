"""Editions: what was said about a class has another one after each change, and none twice.

Whoever writes an answer, a verdict or who was there, or takes it away, says so here.
"""

from bot.storage.database import Transaction

ANOTHER = "UPDATE session SET edition = '' || random()"
"""By luck, in either engine: what counts would count the same again after a transaction that was
undone, and in another database."""


async def said_otherwise(tx: Transaction, session_id: str) -> None:
    """Something else was said about this class."""
    await tx.execute(f"{ANOTHER} WHERE id = :id", id=session_id)


async def unsaid_by(tx: Transaction, person_id: str) -> None:
    """All that was said by this person, or noted of them, is about to go."""
    await tx.execute(
        f"""
        {ANOTHER} WHERE id IN (
            SELECT session_id FROM prompt WHERE person_id = :id
            UNION SELECT session_id FROM attendance WHERE person_id = :id
            UNION SELECT session_id FROM verdict WHERE person_id = :id
        )
        """,  # noqa: S608 - our own
        id=person_id,
    )
