"""What had better wait for the morning, since at night nobody is to be disturbed."""

from datetime import datetime

from bot.desk import calendar
from bot.storage.database import Transaction
from bot.storage.dues import Due, Occasion
from bot.storage.sessions import Session


async def had_better_wait(tx: Transaction, due: Due, session: Session, now: datetime) -> bool:
    """At night nobody is reminded, or asked about a class of the afternoon."""
    zone = (await calendar.plan_of(tx, session.plan_id)).timetable.zone
    match due.occasion:
        case Occasion.DIGEST:
            return False
        case Occasion.PROMPT:
            return calendar.disturbs(due.at, now, zone)
        case Occasion.REMINDER:
            return calendar.is_night(now, zone)
