"""The coming classes as facts: which there are, and how each stands to its timetable."""

from datetime import datetime, timedelta

from bot.desk.calendar import plan_of
from bot.desk.timetables import times_of
from bot.planfile import PlanFile
from bot.storage import calendars, groups, rescheduling
from bot.storage.database import Transaction
from bot.storage.groups import Group
from bot.storage.sessions import Session
from bot.timetable import local, to_utc
from bot.words.classes import ClassFacts, Standing
from core.rules import PROMPT_USEFUL

EXTRA = "+"
"""What the slots of classes begin with that were added by hand."""
MINUTE = timedelta(minutes=1)
SLOT_LENGTH = len("2026-09-03T18:30")


async def class_facts(tx: Transaction, session: Session, now: datetime) -> ClassFacts:
    """One class as it is told."""
    group = await groups.group(tx, session.group_id)
    plan = await plan_of(tx, session.plan_id)
    return ClassFacts(
        session=session.id,
        group=group.name,
        group_id=group.id,
        starts_at=session.starts_at,
        zone=plan.timezone,
        minutes=(session.ends_at - session.starts_at) // MINUTE,
        standing=standing(session, now),
    )


async def listed(tx: Transaction, group: Group, now: datetime) -> tuple[Session, ...]:
    """The classes that an instructor can do something about, earliest first.

    The last one is among them for as long as it can be asked about; those that a timetable took
    back, or an instructor who had added them, are not.
    """
    ahead = await rescheduling.ahead(tx, group.id, now)
    last = await rescheduling.last_over(tx, group.id, now - PROMPT_USEFUL, now)
    shown = (each for each in ahead if not each.cancelled or _called_off(each))
    return (*([] if last is None else [last]), *shown)


def standing(session: Session, now: datetime) -> Standing:
    """How a class stands to its timetable."""
    if session.ends_at <= now:
        return Standing.NOT_HELD if session.cancelled else Standing.OVER
    if session.cancelled:
        return Standing.CANCELLED
    if session.slot.startswith(EXTRA):
        return Standing.ADDED
    return Standing.MOVED if session.moved else Standing.AS_PLANNED


def can_change(session: Session, now: datetime) -> bool:
    """Whether anything can be done about a class still."""
    return now <= session.ends_at + PROMPT_USEFUL


def slot_start(session: Session, plan: PlanFile) -> datetime:
    """When its timetable has a class; of one that was added, when it was to be at first."""
    wall = datetime.fromisoformat(session.slot.removeprefix(EXTRA)[:SLOT_LENGTH])
    return to_utc(wall, plan.timezone)


async def follows_calendar(tx: Transaction, group: Group) -> bool:
    """Whether a group's timetable is the calendar file that was sent."""
    plan = await plan_of(tx, group.plan_id)
    return await calendars.calendar_document(tx, group.id, times_of(plan)) is not None


async def ways_to_move(
    tx: Transaction, session: Session, zone: str, now: datetime
) -> list[tuple[str, datetime]]:
    """Times that one tap moves a class to, each by the name of the way."""
    ways = {
        "earlier": session.starts_at - timedelta(hours=1),
        "later": session.starts_at + timedelta(hours=1),
        "before": _days_on(session.starts_at, -1, zone),
        "after": _days_on(session.starts_at, 1, zone),
    }
    length = session.ends_at - session.starts_at
    return [
        (name, at)
        for name, at in ways.items()
        if at > now
        and await rescheduling.at_that_time(
            tx, session.group_id, at, at + length, besides=session.id
        )
        is None
    ]


async def days_to_add(
    tx: Transaction, group: Group, plan: PlanFile, now: datetime, most: int
) -> list[datetime]:
    """The next days at the group's usual time on which it has no class then."""
    wall = datetime.combine(local(now, plan.timezone).date(), plan.starts.time())
    length = timedelta(minutes=plan.minutes)
    free: list[datetime] = []
    for ahead in range(4 * most):
        at = to_utc(wall + timedelta(days=ahead), plan.timezone)
        taken = await rescheduling.at_that_time(tx, group.id, at, at + length)
        if at > now and taken is None and len(free) < most:
            free.append(at)
    return free


def _called_off(session: Session) -> bool:
    return session.by_hand and not session.slot.startswith(EXTRA)


def _days_on(moment: datetime, days: int, zone: str) -> datetime:
    """The same time on the wall, days later or earlier, whatever clocks do in between."""
    return to_utc(local(moment, zone).replace(tzinfo=None) + timedelta(days=days), zone)
