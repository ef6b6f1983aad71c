"""Starting estimates: what members think they could just do."""

from datetime import date

from bot.storage.database import Transaction
from core.reports import StartingEstimate


async def put_estimate(tx: Transaction, group_id: str, estimate: StartingEstimate) -> None:
    """Keep an estimate; a later one of the same movement replaces it."""
    await tx.execute(
        """
        INSERT INTO estimate (group_id, person_id, movement, amount, load, said_on)
        VALUES (:group_id, :person_id, :movement, :amount, :load, :said_on)
        ON CONFLICT (group_id, person_id, movement) DO UPDATE
        SET amount = excluded.amount, load = excluded.load, said_on = excluded.said_on
        """,
        group_id=group_id,
        person_id=estimate.member,
        movement=estimate.movement,
        amount=estimate.amount,
        load=estimate.load,
        said_on=estimate.on.isoformat(),
    )


async def estimates_of_group(
    tx: Transaction, group_id: str, member: str | None
) -> tuple[StartingEstimate, ...]:
    """What everyone, or one of them, said they could just do."""
    rows = await tx.all(
        """
        SELECT * FROM estimate WHERE group_id = :group_id
        AND (:member IS NULL OR person_id = :member)
        ORDER BY person_id, movement
        """,
        group_id=group_id,
        member=member,
    )
    return tuple(
        StartingEstimate(
            member=row["person_id"],
            movement=row["movement"],
            on=date.fromisoformat(row["said_on"]),
            amount=row["amount"],
            load=row["load"],
        )
        for row in rows
    )
