"""When the instructors of a group want to be told, where they chose something themselves."""

from datetime import date, datetime

from dateutil.relativedelta import relativedelta

from bot.storage.database import Transaction
from bot.storage.moments import read_moment, write_moment
from core import rules
from core.thresholds import CHOICES, Threshold, Thresholds


async def thresholds_of(tx: Transaction, group_id: str) -> Thresholds:
    """The numbers that hold in this group."""
    rows = await tx.all(
        "SELECT name, value FROM threshold WHERE group_id = :group_id ORDER BY name",
        group_id=group_id,
    )
    known = [(row["name"], row["value"]) for row in rows if row["name"] in tuple(Threshold)]
    chosen = [(Threshold(name), value) for name, value in known]
    return Thresholds(chosen=tuple(each for each in chosen if each[1] in CHOICES[each[0]]))


async def kept_since(tx: Transaction, group_id: str, now: datetime) -> date | None:
    """The day before which what was said may go; None while a new choice can be taken back."""
    row = await tx.one(
        "SELECT value, changed_at FROM threshold WHERE group_id = :group_id AND name = :name",
        group_id=group_id,
        name=Threshold.KEPT.value,
    )
    if row is None:
        return _months_before(now, rules.MONTHS_KEPT)
    if now < read_moment(row["changed_at"]) + rules.KEPT_AFTER_CHOOSING:
        return None
    return _months_before(now, row["value"])


def _months_before(now: datetime, months: int) -> date:
    return (now - relativedelta(months=months)).date()


async def put_threshold(
    tx: Transaction, group_id: str, threshold: Threshold, value: int, now: datetime
) -> None:
    """From now on this number holds; 0 is never."""
    await tx.execute(
        """
        INSERT INTO threshold (group_id, name, value, changed_at)
        VALUES (:group_id, :name, :value, :now)
        ON CONFLICT (group_id, name) DO UPDATE
        SET value = excluded.value, changed_at = excluded.changed_at
        """,
        group_id=group_id,
        name=threshold.value,
        value=value,
        now=write_moment(now),
    )
