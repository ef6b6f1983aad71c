"""A group's timetable: what its plan or its calendar file plans, and letting that be so."""

import logging
from dataclasses import replace
from datetime import datetime

from bot.desk.matching import Changes, match
from bot.planfile import PlanFile
from bot.storage import calendars, rescheduling, sessions
from bot.storage.database import Transaction
from bot.storage.groups import Group
from bot.storage.names import name_row
from bot.storage.sessions import Session
from bot.timetable import WINDOW, SessionTime, local, sessions_between
from bot.timetable.calendarfile import (
    BadCalendar,
    Calendar,
    Home,
    Planned,
    planned_between,
    read_calendar,
)

LOG = logging.getLogger(__name__)

SLOT = "%Y-%m-%dT%H:%M"


def times_of(plan: PlanFile) -> str:
    """The times that a plan names: a calendar counts in place of these, and of no others."""
    return f"{plan.starts.isoformat()} {plan.rrule} {plan.timezone}"


def home_of(plan: PlanFile) -> Home:
    """What a calendar may leave out, since the group's plan says it."""
    return Home(zone=plan.timezone, minutes=plan.minutes)


async def changes_of(
    tx: Transaction, group: Group, plan: PlanFile, now: datetime, calendar: Calendar | None = None
) -> Changes | None:
    """What the group's timetable, or this calendar instead, changes in the coming weeks.

    None if it can't be worked out: then all had better stay as it is.
    """
    if calendar is None:
        document = await calendars.calendar_document(tx, group.id, times_of(plan))
        calendar = None if document is None else read_calendar(document)
    try:
        planned = _planned(group, plan, calendar, now)
    except BadCalendar as refused:
        LOG.warning("the timetable of group %s can't be worked out: %s", group.id, refused.refusal)
        return None
    ahead = await rescheduling.ahead(tx, group.id, now)
    # of what is planned later than anybody looked ahead nothing is known
    in_sight = [each for each in ahead if each.starts_at < now + WINDOW or each.by_hand]
    return match(in_sight, planned)


async def apply(tx: Transaction, changes: Changes, now: datetime) -> None:
    """Let it be so."""
    later = (*(new for _, new in changes.moved), *changes.back, *changes.same)
    others = tuple(new for _, new in changes.by_hand)
    for each in changes.gone:
        await rescheduling.take_out(tx, each, now)
    await rescheduling.free_slots(tx, tuple(each.id for each in (*later, *others)))
    for each in (*later, *others):
        await rescheduling.follow_timetable(tx, each)
    for each in changes.new:
        await rescheduling.make_session(tx, each, now)


def _planned(
    group: Group, plan: PlanFile, calendar: Calendar | None, now: datetime
) -> list[Session]:
    """The sessions that the timetable plans and that have not begun."""
    if calendar is None:
        times = sessions_between(plan.timetable, now, now + WINDOW)
        found = [_by_rule(group, plan, each) for each in times]
    else:
        found = _distinct(
            [
                _by_calendar(group, each)
                for each in planned_between(calendar, home_of(plan), now, now + WINDOW)
            ]
        )
    # a class that starts at this very moment has begun, and keeps the plan that it has
    return [each for each in found if each.starts_at > now]


def _by_rule(group: Group, plan: PlanFile, time: SessionTime) -> Session:
    slot = local(time.starts_at, plan.timetable.zone).strftime(SLOT)
    return Session(
        id=sessions.session_id(group.id, slot),
        group_id=group.id,
        plan_id=group.plan_id,
        slot=slot,
        starts_at=time.starts_at,
        ends_at=time.ends_at,
        local_day=time.local_day,
        cancelled=False,
        moved=False,
    )


def _by_calendar(group: Group, planned: Planned) -> Session:
    slot = planned.slot.strftime(SLOT)
    return Session(
        id=sessions.session_id(group.id, slot),
        group_id=group.id,
        plan_id=group.plan_id,
        slot=slot,
        starts_at=planned.starts_at,
        ends_at=planned.ends_at,
        local_day=planned.local_day,
        cancelled=False,
        moved=False,
        event=name_row("event", planned.event),
    )


def _distinct(found: list[Session]) -> list[Session]:
    """Two events may stand for the same slot, if one of them was moved: it says which it is."""
    slots: set[str] = set()
    distinct = []
    for each in found:
        slot = each.slot if each.slot not in slots else f"{each.slot}/{each.event}"
        slots.add(slot)
        own = each.id if slot == each.slot else sessions.session_id(each.group_id, slot)
        distinct.append(replace(each, id=own, slot=slot))
    return distinct
