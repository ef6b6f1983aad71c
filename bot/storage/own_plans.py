"""Classes with a plan of their own, and all others that follow their group's."""

from datetime import datetime

from bot.storage.database import Transaction
from bot.storage.groups import Group
from bot.storage.moments import write_moment


async def give_own_plan(tx: Transaction, session_id: str, plan_id: str, now: datetime) -> None:
    """Let this one class have that plan, whatever its group's will be."""
    await tx.execute(
        """
        INSERT INTO own_plan (session_id, plan_id, chosen_at)
        VALUES (:session_id, :plan_id, :now)
        ON CONFLICT (session_id) DO UPDATE
        SET plan_id = excluded.plan_id, chosen_at = excluded.chosen_at
        """,
        session_id=session_id,
        plan_id=plan_id,
        now=write_moment(now),
    )
    await tx.execute(
        "UPDATE session SET plan_id = :plan_id WHERE id = :id", id=session_id, plan_id=plan_id
    )


async def drop_own_plan(tx: Transaction, session_id: str) -> None:
    """Let this class follow its group again."""
    await tx.execute("DELETE FROM own_plan WHERE session_id = :id", id=session_id)


async def follow_group(tx: Transaction, group: Group, now: datetime) -> None:
    """Let every class that has not begun, and has no plan of its own, follow the group's plan.

    Also those that were moved or added by hand, which the timetable leaves alone.
    """
    await tx.execute(
        """
        UPDATE session SET plan_id = :plan_id WHERE group_id = :group_id AND starts_at > :now
        AND id NOT IN (SELECT session_id FROM own_plan)
        """,
        group_id=group.id,
        plan_id=group.plan_id,
        now=write_moment(now),
    )


async def was_called(tx: Transaction, session_id: str) -> bool:
    """Whether the digest of this class has gone out, so that its doses have been called out."""
    found = await tx.value(
        """
        SELECT 1 FROM due WHERE kind = 'digest' AND session_id = :id AND done_at IS NOT NULL
        """,
        id=session_id,
    )
    return found is not None


async def thaw(tx: Transaction, session_id: str) -> None:
    """Let what is called out in a class be worked out afresh."""
    await tx.execute("DELETE FROM advice WHERE session_id = :id", id=session_id)
