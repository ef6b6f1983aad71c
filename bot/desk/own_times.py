"""When one member is asked or reminded, where they chose a time of their own."""

from datetime import datetime, time, timedelta

from bot.storage.preferences import AskedWhen, Preferences
from bot.storage.sessions import Session
from bot.timetable import quiet, to_utc
from core.rules import REMINDER_AFTER

EVENING = time(20)
MORNING = time(9)


def ask_at(chosen: Preferences, session: Session, zone: str, now: datetime) -> datetime:
    """When to ask about a class that is over; not before now."""
    day = session.local_day
    match chosen.asked:
        case AskedWhen.AFTER:
            return now
        case AskedWhen.EVENING:
            return max(now, to_utc(datetime.combine(day, EVENING), zone))
        case AskedWhen.MORNING:
            return max(now, to_utc(datetime.combine(day + timedelta(days=1), MORNING), zone))


def remind_at(chosen: Preferences, asked_at: datetime, zone: str, now: datetime) -> datetime:
    """When to remind whoever was asked then; not before now, and outside their quiet hours."""
    return out_of_quiet(chosen, max(now, asked_at + REMINDER_AFTER), zone)


def out_of_quiet(chosen: Preferences, moment: datetime, zone: str) -> datetime:
    """That moment, or the end of the quiet hours that it lies in."""
    return quiet(moment, zone, clock(chosen.quiet_from), clock(chosen.quiet_until))


def clock(minutes: int) -> time:
    """Minutes since midnight as a time of the day."""
    return time(*divmod(minutes, 60))
