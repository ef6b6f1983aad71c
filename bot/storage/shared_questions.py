"""The questions that stand in group chats, one for each session, and how many have answered."""

from dataclasses import dataclass
from datetime import datetime

from bot.storage.database import Row, Transaction
from bot.storage.moments import read_moment, write_moment
from bot.storage.names import name_row
from core.questions import ABSENT, SESSION


@dataclass(frozen=True, slots=True, kw_only=True)
class SharedQuestion:
    """The question about one session in the group's chat."""

    id: str
    session_id: str
    letter: str
    """The outbox letter whose message shows it."""
    asked_at: datetime
    shown: int
    """The count of answers that it shows; 0 shows none."""


async def put_question(
    tx: Transaction, session_id: str, invites: int, now: datetime
) -> SharedQuestion | None:
    """A question about this session, from which so many may be invited; None if there is one."""
    question_id = name_row("shared question", session_id)
    row = await tx.one(
        """
        INSERT INTO shared_question (id, session_id, letter, asked_at, shown, invites_left)
        VALUES (:id, :session_id, :letter, :now, 0, :invites)
        ON CONFLICT (id) DO NOTHING RETURNING *
        """,
        id=question_id,
        session_id=session_id,
        letter=f"shared/{question_id}",
        now=write_moment(now),
        invites=invites,
    )
    return None if row is None else _read(row)


async def question(tx: Transaction, question_id: str) -> SharedQuestion | None:
    """The question with this id."""
    row = await tx.one("SELECT * FROM shared_question WHERE id = :id", id=question_id)
    return None if row is None else _read(row)


async def question_about(tx: Transaction, session_id: str) -> SharedQuestion | None:
    """The question about this session, if it was asked in a group chat."""
    row = await tx.one("SELECT * FROM shared_question WHERE session_id = :id", id=session_id)
    return None if row is None else _read(row)


async def latest_question(tx: Transaction, group_id: str) -> SharedQuestion | None:
    """What this group was asked last."""
    row = await tx.one(
        """
        SELECT shared_question.* FROM shared_question
        JOIN session ON session.id = shared_question.session_id
        WHERE session.group_id = :group_id ORDER BY asked_at DESC, shared_question.id LIMIT 1
        """,
        group_id=group_id,
    )
    return None if row is None else _read(row)


async def note_shown(tx: Transaction, question_id: str, shown: int) -> None:
    """Remember which count it shows."""
    await tx.execute(
        "UPDATE shared_question SET shown = :shown WHERE id = :id", id=question_id, shown=shown
    )


async def note_letter(tx: Transaction, question_id: str, letter: str) -> None:
    """Another letter shows it now."""
    await tx.execute(
        "UPDATE shared_question SET letter = :letter WHERE id = :id", id=question_id, letter=letter
    )


async def take_invite(tx: Transaction, question_id: str) -> bool:
    """Use up one of the invitations; false if there are none left."""
    taken = await tx.execute(
        """
        UPDATE shared_question SET invites_left = invites_left - 1
        WHERE id = :id AND invites_left > 0
        """,
        id=question_id,
    )
    return taken > 0


async def count_answers(tx: Transaction, session_id: str) -> int:
    """How many have said how hard that class was, or that they weren't there."""
    found: int = await tx.value(
        """
        SELECT count(*) FROM answer JOIN prompt ON prompt.id = answer.prompt_id
        WHERE prompt.session_id = :session_id AND answer.question = :question
        AND (answer.number IS NOT NULL OR answer.word = :absent)
        """,
        session_id=session_id,
        question=str(SESSION),
        absent=ABSENT,
    )
    return found


def _read(row: Row) -> SharedQuestion:
    return SharedQuestion(
        id=row["id"],
        session_id=row["session_id"],
        letter=row["letter"],
        asked_at=read_moment(row["asked_at"]),
        shown=row["shown"],
    )
