"""Sessions worked out ahead from the timetable, and what falls due around each."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from functools import lru_cache
from itertools import pairwise

from bot.planfile import PlanFile, read_plan_file
from bot.storage import groups, sessions
from bot.storage.database import Transaction
from bot.storage.groups import Group
from bot.storage.sessions import Due, Occasion, Session
from bot.timetable import (
    QUIET_FROM,
    WINDOW,
    SessionTime,
    local,
    quiet,
    sessions_between,
    to_utc,
)
from core.rules import PROMPT_USEFUL, REMINDER_AFTER

STILL_UP = timedelta(hours=1)
"""After a class nobody minds a question, however late in the evening."""


async def plan_of(tx: Transaction, plan_id: str) -> PlanFile:
    """The plan file with this id; it was checked before it was stored."""
    return _read(await groups.plan_document(tx, plan_id))


@lru_cache(maxsize=64)  # plans never change, and every answer needs one
def _read(document: str) -> PlanFile:
    return read_plan_file(document, "stored plan")


async def plan_ahead(tx: Transaction, group: Group, now: datetime) -> None:
    """Store the sessions of the coming weeks, and what falls due around them."""
    plan = await plan_of(tx, group.plan_id)
    times = sessions_between(plan.timetable, now, now + WINDOW)
    # a class that starts at this very moment has begun, and keeps the plan that it has
    coming = [_session(group, plan, time) for time in times if time.starts_at > now]
    for session in coming:
        await sessions.put_session(tx, session)
    for session, following in _with_next(coming):
        stored = await sessions.session(tx, session.id)
        if not stored.cancelled and not stored.moved:
            await _put_dues(tx, plan, stored, following)


def coming_starts(plan: PlanFile, now: datetime, most: int) -> list[datetime]:
    """When the first classes of a plan would be."""
    times = sessions_between(plan.timetable, now, now + WINDOW)[:most]
    return [time.starts_at for time in times]


async def replan(tx: Transaction, group: Group, now: datetime) -> None:
    """Let a changed plan or timetable count for everything that has not begun."""
    await sessions.remove_future_sessions(tx, group.id, now)
    await plan_ahead(tx, group, now)


async def move(tx: Transaction, session: Session, starts_at: datetime, now: datetime) -> None:
    """Put a session that has not begun at another time; what is due around it moves along."""
    plan = await plan_of(tx, session.plan_id)
    length = session.ends_at - session.starts_at
    day = local(starts_at, plan.timetable.zone).date()
    await sessions.move_session(tx, session, starts_at, starts_at + length, day, now)
    await sessions.forget_dues(tx, session.id)
    moved = await sessions.session(tx, session.id)
    following = await sessions.session_after(tx, moved)
    await _put_dues(tx, plan, moved, following.starts_at if following else None)


async def _put_dues(
    tx: Transaction, plan: PlanFile, session: Session, following: datetime | None
) -> None:
    for due in dues(plan, session, following):
        await sessions.put_due(tx, due)


def dues(plan: PlanFile, session: Session, following: datetime | None) -> tuple[Due, ...]:
    """What falls due around a session; `following` is when the next one starts, if known.

    The prompt helps until the next class starts, or its memory fades; nobody is reminded in the
    quiet hours.
    """
    prompt_at = session.ends_at + timedelta(minutes=plan.prompt_after)
    too_late = min(prompt_at + PROMPT_USEFUL, following or prompt_at + PROMPT_USEFUL)
    remind_at = quiet(prompt_at + REMINDER_AFTER, plan.timetable.zone)

    def due(occasion: Occasion, at: datetime, not_after: datetime) -> Due:
        return Due(occasion=occasion, session_id=session.id, at=at, not_after=not_after)

    digest_at = session.starts_at - timedelta(minutes=plan.digest_before)
    return (
        due(Occasion.DIGEST, digest_at, session.starts_at),
        due(Occasion.PROMPT, prompt_at, too_late),
        due(Occasion.REMINDER, remind_at, too_late),
    )


def disturbs(asked_at: datetime, now: datetime, zone: str) -> bool:
    """Whether a question that was due then had better not come now: it is night.

    Right after a late class people are still up.
    """
    return now - asked_at > STILL_UP and is_night(now, zone)


def is_night(now: datetime, zone: str) -> bool:
    """Whether these are the hours in which nobody is reminded of anything."""
    return quiet(now, zone) != now


def nightfall(now: datetime, zone: str) -> datetime:
    """When the quiet hours of this day begin there; what is late by then isn't sent."""
    return to_utc(datetime.combine(local(now, zone).date(), QUIET_FROM), zone)


async def put_off_reminder(tx: Transaction, prompt: Due, plan: PlanFile, now: datetime) -> None:
    """Remind as long after a prompt that comes late as after one that comes in time."""
    at = quiet(now + REMINDER_AFTER, plan.timetable.zone)
    await sessions.put_due(tx, replace(prompt, occasion=Occasion.REMINDER, at=at))


def _session(group: Group, plan: PlanFile, time: SessionTime) -> Session:
    slot = local(time.starts_at, plan.timetable.zone).strftime("%Y-%m-%dT%H:%M")
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


def _with_next(coming: Sequence[Session]) -> list[tuple[Session, datetime | None]]:
    pairs: list[tuple[Session, datetime | None]] = [
        (session, following.starts_at) for session, following in pairwise(coming)
    ]
    return [*pairs, *((session, None) for session in coming[-1:])]
