"""What was said long ago goes, once suggestions no longer need it."""

from datetime import datetime

from bot.storage.database import Transaction
from bot.storage.editions import ANOTHER
from bot.storage.moments import write_moment
from bot.storage.thresholds import kept_since

OLD_PROMPTS = """
SELECT old.id FROM prompt AS old JOIN session ON session.id = old.session_id
WHERE session.group_id = :group_id AND session.local_day < :since AND EXISTS (
    SELECT 1 FROM prompt AS newer JOIN session AS later ON later.id = newer.session_id
    WHERE newer.person_id = old.person_id AND later.group_id = :group_id
    AND later.starts_at > session.starts_at
    AND EXISTS (SELECT 1 FROM answer WHERE answer.prompt_id = newer.id)
)
"""
"""All but each member's last: without it, who comes back after years would begin as a stranger."""

OLD_SYMPTOMS = """
SELECT id FROM symptom WHERE group_id = :group_id AND said_on < :since AND (
    withdrawn_at IS NOT NULL OR kind = 'soreness'
    OR (cleared_by_member IS NOT NULL AND cleared_by_instructor IS NOT NULL)
)
"""
"""What holds somebody back still is never too old."""

OF_A_CLASS = ("verdict", "attendance")


async def thin_out(tx: Transaction, group_id: str, now: datetime) -> None:
    """Remove what was said about a group's classes before the time for which it is kept."""
    day = await kept_since(tx, group_id, now)
    if day is None:
        return
    since = day.isoformat()
    moment = write_moment(now.replace(year=day.year, month=day.month, day=day.day))
    for sql in (
        f"{ANOTHER} WHERE id IN (SELECT session_id FROM prompt WHERE id IN ({OLD_PROMPTS}))",  # noqa: S608 - our own
        f"DELETE FROM answer WHERE prompt_id IN ({OLD_PROMPTS})",  # noqa: S608 - our own
        f"DELETE FROM prompt WHERE id IN ({OLD_PROMPTS})",  # noqa: S608 - our own
        f"DELETE FROM alert WHERE symptom_id IN ({OLD_SYMPTOMS})",  # noqa: S608 - our own
        f"DELETE FROM symptom WHERE id IN ({OLD_SYMPTOMS})",  # noqa: S608 - our own
    ):
        await tx.execute(sql, group_id=group_id, since=since)
    for table in OF_A_CLASS:
        for sql in (
            f"""
            {ANOTHER} WHERE group_id = :group_id AND local_day < :since
            AND EXISTS (SELECT 1 FROM {table} WHERE {table}.session_id = session.id)
            """,  # noqa: S608 - our own
            f"""
            DELETE FROM {table} WHERE session_id IN (
                SELECT id FROM session WHERE group_id = :group_id AND local_day < :since
            )
            """,  # noqa: S608 - our own
        ):
            await tx.execute(sql, group_id=group_id, since=since)
    await tx.execute(
        """
        DELETE FROM alert WHERE group_id = :group_id AND raised_at < :moment
        AND (resolved_at IS NOT NULL OR cleared_at IS NOT NULL)
        """,
        group_id=group_id,
        moment=moment,
    )
    await tx.execute(
        "DELETE FROM note WHERE group_id = :group_id AND written_at < :moment",
        group_id=group_id,
        moment=moment,
    )
