"""What members found too hard or too easy while the class was on."""

from datetime import date, datetime

from pydantic import TypeAdapter

from bot.storage.about import About
from bot.storage.database import Row, Transaction
from bot.storage.editions import said_otherwise
from bot.storage.moments import read_moment, write_moment
from core.movement import Dose
from core.reports import Bout
from core.verdict import Verdict, as_bout

_DOSE = TypeAdapter(Dose)


async def put_verdict(
    tx: Transaction,
    session_id: str,
    person_id: str,
    movement: str,
    dose: Dose,
    verdict: Verdict,
    now: datetime,
) -> None:
    """Keep what was said; saying the other thing replaces it."""
    await tx.execute(
        """
        INSERT INTO verdict (session_id, person_id, movement, dose, word, said_at)
        VALUES (:session_id, :person_id, :movement, :dose, :word, :now)
        ON CONFLICT (session_id, person_id, movement) DO UPDATE
        SET dose = excluded.dose, word = excluded.word, said_at = excluded.said_at
        """,
        session_id=session_id,
        person_id=person_id,
        movement=movement,
        dose=_DOSE.dump_json(dose, exclude_none=True).decode(),
        word=verdict.value,
        now=write_moment(now),
    )
    await said_otherwise(tx, session_id)


async def drop_verdict(tx: Transaction, session_id: str, person_id: str, movement: str) -> None:
    """Take back what was said; saying nothing is an answer too."""
    await tx.execute(
        """
        DELETE FROM verdict
        WHERE session_id = :session_id AND person_id = :person_id AND movement = :movement
        """,
        session_id=session_id,
        person_id=person_id,
        movement=movement,
    )
    await said_otherwise(tx, session_id)


async def verdicts_of(
    tx: Transaction, group_id: str, person_id: str
) -> dict[tuple[str, date], Verdict]:
    """What one member said in a group's classes, by movement and day."""
    rows = await tx.all(
        """
        SELECT verdict.movement, verdict.word, session.local_day
        FROM verdict JOIN session ON session.id = verdict.session_id
        WHERE session.group_id = :group_id AND verdict.person_id = :person_id
        """,
        group_id=group_id,
        person_id=person_id,
    )
    return {
        (row["movement"], date.fromisoformat(row["local_day"])): Verdict(row["word"])
        for row in rows
    }


async def verdicts_as_bouts(tx: Transaction, about: About) -> tuple[Bout, ...]:
    """Everything of the kind that was said, read as bouts."""
    rows = await tx.all(
        f"""
        SELECT verdict.*, session.local_day
        FROM verdict JOIN session ON session.id = verdict.session_id
        WHERE {about.where("verdict")}
        """,  # noqa: S608 - our own
        **about.named,
    )
    return tuple(map(_bout, rows))


def _bout(row: Row) -> Bout:
    return as_bout(
        Verdict(row["word"]),
        member=row["person_id"],
        session=row["session_id"],
        on=date.fromisoformat(row["local_day"]),
        said_at=read_moment(row["said_at"]),
        movement=row["movement"],
        dose=_DOSE.validate_json(row["dose"]),
    )
