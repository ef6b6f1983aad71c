"""Who was there, as the instructors have noted it."""

from datetime import datetime

from bot.storage.database import Transaction
from bot.storage.editions import said_otherwise
from bot.storage.moments import write_moment
from bot.storage.sessions import Session, read_session
from core.questions import ABSENT as SAID_ABSENT
from core.questions import SESSION

PRESENT, ABSENT = "present", "absent"


async def note_presence(
    tx: Transaction, session_id: str, person_id: str, was_there: bool | None, now: datetime
) -> bool:
    """Note whether a member was there; None takes the note back. False if it was so already."""
    changed = await _note(tx, session_id, person_id, was_there, now)
    if changed:
        await said_otherwise(tx, session_id)
    return changed


async def _note(
    tx: Transaction, session_id: str, person_id: str, was_there: bool | None, now: datetime
) -> bool:
    if was_there is None:
        forgotten = await tx.execute(
            "DELETE FROM attendance WHERE session_id = :session_id AND person_id = :person_id",
            session_id=session_id,
            person_id=person_id,
        )
        return forgotten > 0
    noted = await tx.value(
        """
        INSERT INTO attendance (session_id, person_id, word, noted_at)
        VALUES (:session_id, :person_id, :word, :now)
        ON CONFLICT (session_id, person_id) DO UPDATE
        SET word = excluded.word, noted_at = excluded.noted_at
        WHERE attendance.word <> excluded.word RETURNING word
        """,
        session_id=session_id,
        person_id=person_id,
        word=PRESENT if was_there else ABSENT,
        now=write_moment(now),
    )
    return noted is not None


async def presence_in(tx: Transaction, session_id: str) -> dict[str, bool]:
    """Who was there and who wasn't, by person id; without those of whom nothing was noted."""
    rows = await tx.all("SELECT * FROM attendance WHERE session_id = :id", id=session_id)
    return {row["person_id"]: row["word"] == PRESENT for row in rows}


async def absent_from(tx: Transaction, session_id: str) -> frozenset[str]:
    """Who wasn't there, by person id: they aren't asked about that class."""
    noted = await presence_in(tx, session_id)
    return frozenset(person for person, was_there in noted.items() if not was_there)


async def said_presence(tx: Transaction, session_id: str) -> dict[str, bool]:
    """Who has said themselves that they were there or weren't, by person id."""
    rows = await tx.all(
        """
        SELECT person_id, word FROM answer JOIN prompt ON prompt.id = answer.prompt_id
        WHERE prompt.session_id = :session_id AND answer.question = :question
        """,
        session_id=session_id,
        question=str(SESSION),
    )
    return {row["person_id"]: row["word"] != SAID_ABSENT for row in rows}


async def begun_last(tx: Transaction, group_id: str, now: datetime) -> Session | None:
    """The class that is on, or else the last one that was; None before the first."""
    row = await tx.one(
        """
        SELECT * FROM session WHERE group_id = :group_id AND starts_at <= :now
        AND cancelled_at IS NULL ORDER BY starts_at DESC LIMIT 1
        """,
        group_id=group_id,
        now=write_moment(now),
    )
    return None if row is None else read_session(row)
