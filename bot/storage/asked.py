"""Which members were asked about which classes, answered or not."""

from datetime import date, datetime

from bot.storage.database import Transaction
from bot.storage.moments import write_moment
from core.watching import Asked


async def classes_asked_about(
    tx: Transaction, group_id: str, member: str | None, *, since: datetime, until: datetime
) -> tuple[Asked, ...]:
    """What the members of a group, or one of them, were asked about between two moments."""
    by_member = "" if member is None else "AND prompt.person_id = :member"
    rows = await tx.all(
        f"""
        SELECT prompt.person_id, prompt.session_id, session.local_day
        FROM prompt JOIN session ON session.id = prompt.session_id
        JOIN membership ON membership.person_id = prompt.person_id
            AND membership.group_id = session.group_id
        WHERE session.group_id = :group_id AND membership.left_at IS NULL
        AND prompt.opened_at BETWEEN :since AND :until {by_member}
        """,  # noqa: S608 - our own
        group_id=group_id,
        member=member,
        since=write_moment(since),
        until=write_moment(until),
    )
    return tuple(
        Asked(
            member=row["person_id"],
            session=row["session_id"],
            on=date.fromisoformat(row["local_day"]),
        )
        for row in rows
    )


async def asked_about(tx: Transaction, session_id: str) -> int:
    """How many of those who take part now were asked about a class."""
    found = await tx.value(
        """
        SELECT count(*) FROM prompt JOIN session ON session.id = prompt.session_id
        JOIN membership ON membership.person_id = prompt.person_id
            AND membership.group_id = session.group_id
        WHERE session.id = :id AND membership.left_at IS NULL
        """,
        id=session_id,
    )
    return int(found)


async def reached_about(tx: Transaction, session_id: str) -> frozenset[str]:
    """Who was asked about a class, or will be at a time of their own, by person id."""
    rows = await tx.all(
        """
        SELECT person_id FROM prompt WHERE session_id = :id
        UNION SELECT person_id FROM asking WHERE session_id = :id AND kind = 'prompt'
        """,
        id=session_id,
    )
    return frozenset(row["person_id"] for row in rows)
