"""Who stands in for the instructors of a group, in one class each."""

from dataclasses import dataclass
from datetime import datetime

from bot.storage.database import Transaction
from bot.storage.moments import write_moment
from bot.storage.names import name_row
from bot.storage.people import Person, read_person
from bot.storage.sessions import Session, read_session


@dataclass(frozen=True, slots=True, kw_only=True)
class Substitute:
    """One person who stands in, in one class."""

    id: str
    person: Person
    session: Session


async def put_substitute(tx: Transaction, session_id: str, person_id: str, now: datetime) -> None:
    """Let this person stand in for that class."""
    await tx.execute(
        """
        INSERT INTO substitute (id, session_id, person_id, since)
        VALUES (:id, :session_id, :person_id, :now)
        ON CONFLICT (session_id, person_id) DO NOTHING
        """,
        id=name_row("substitute", session_id, person_id),
        session_id=session_id,
        person_id=person_id,
        now=write_moment(now),
    )


async def substitutes(tx: Transaction, session_id: str) -> tuple[Person, ...]:
    """Who stands in for that class, unless they lead the group by now."""
    rows = await tx.all(
        """
        SELECT person.* FROM person JOIN substitute ON substitute.person_id = person.id
        JOIN session ON session.id = substitute.session_id
        WHERE substitute.session_id = :session_id AND NOT EXISTS (
            SELECT 1 FROM leading WHERE leading.group_id = session.group_id
            AND leading.person_id = person.id
        )
        ORDER BY substitute.since, person.id
        """,
        session_id=session_id,
    )
    return tuple(map(read_person, rows))


async def sessions_stood_in(tx: Transaction, person: Person, now: datetime) -> tuple[Session, ...]:
    """The classes in which this person stands in and that aren't over, earliest first."""
    rows = await tx.all(
        """
        SELECT session.* FROM session JOIN substitute ON substitute.session_id = session.id
        WHERE substitute.person_id = :person_id
        AND session.ends_at > :now AND session.cancelled_at IS NULL
        ORDER BY session.starts_at
        """,
        person_id=person.id,
        now=write_moment(now),
    )
    return tuple(map(read_session, rows))


async def substitutes_of_group(
    tx: Transaction, group_id: str, now: datetime
) -> tuple[Substitute, ...]:
    """Everyone who stands in for a class of this group that isn't over, earliest first."""
    rows = await tx.all(
        """
        SELECT substitute.id AS stands, person_id, session_id FROM substitute
        JOIN session ON session.id = substitute.session_id
        WHERE session.group_id = :group_id AND session.ends_at > :now
        ORDER BY session.starts_at, substitute.since
        """,
        group_id=group_id,
        now=write_moment(now),
    )
    return tuple(
        [
            Substitute(
                id=row["stands"],
                person=await _person(tx, row["person_id"]),
                session=await _session(tx, row["session_id"]),
            )
            for row in rows
        ]
    )


async def end_substitute(tx: Transaction, substitute_id: str, group_id: str) -> bool:
    """They no longer stand in; false if they don't anyway, or not in that group."""
    ended = await tx.execute(
        """
        DELETE FROM substitute WHERE id = :id
        AND session_id IN (SELECT id FROM session WHERE group_id = :group_id)
        """,
        id=substitute_id,
        group_id=group_id,
    )
    return ended > 0


async def forget_substitutes(tx: Transaction, before: datetime) -> None:
    """Drop those whose class was over by then."""
    await tx.execute(
        """
        DELETE FROM substitute WHERE since < :before
        AND session_id NOT IN (SELECT id FROM session WHERE ends_at >= :before)
        """,
        before=write_moment(before),
    )


async def _person(tx: Transaction, person_id: str) -> Person:
    row = await tx.one("SELECT * FROM person WHERE id = :id", id=person_id)
    assert row is not None, "the row refers to them"
    return read_person(row)


async def _session(tx: Transaction, session_id: str) -> Session:
    row = await tx.one("SELECT * FROM session WHERE id = :id", id=session_id)
    assert row is not None, "it was just joined"
    return read_session(row)


async def on_duty(
    tx: Transaction, group_id: str, session_id: str | None, since: datetime, until: datetime
) -> tuple[Person, ...]:
    """Who stands in for that class, or for one of the group's that is on in this time."""
    rows = await tx.all(
        """
        SELECT DISTINCT person.* FROM person JOIN substitute ON substitute.person_id = person.id
        JOIN session ON session.id = substitute.session_id
        WHERE session.group_id = :group_id AND session.cancelled_at IS NULL
        AND (session.id = :session_id
            OR (session.starts_at <= :until AND session.ends_at >= :since))
        AND NOT EXISTS (
            SELECT 1 FROM leading WHERE leading.group_id = :group_id
            AND leading.person_id = person.id
        )
        ORDER BY person.id
        """,
        group_id=group_id,
        session_id=session_id,
        since=write_moment(since),
        until=write_moment(until),
    )
    return tuple(map(read_person, rows))
