"""Sessions worked out ahead from the timetable, and what falls due around each."""

from dataclasses import replace
from datetime import datetime, timedelta
from functools import lru_cache

from bot.desk.timetables import SLOT, apply, changes_of
from bot.planfile import PlanFile, read_plan_file
from bot.storage import dues, groups, rescheduling, sessions
from bot.storage.database import Transaction
from bot.storage.dues import Due, Occasion
from bot.storage.groups import Group
from bot.storage.own_plans import follow_group, thaw
from bot.storage.sessions import Session
from bot.timetable import QUIET_FROM, WINDOW, local, quiet, sessions_between, to_utc
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
    changes = await changes_of(tx, group, plan, now)
    if changes is not None:
        await apply(tx, changes, now)
        for old, _ in changes.moved:
            await say_anew(tx, old, now)
    await follow_group(tx, group, now)
    await renew_dues(tx, group.id, now)


def coming_starts(plan: PlanFile, now: datetime, most: int) -> list[datetime]:
    """When the first classes of a plan would be."""
    times = sessions_between(plan.timetable, now, now + WINDOW)[:most]
    return [time.starts_at for time in times]


async def replan(tx: Transaction, group: Group, now: datetime) -> None:
    """Let a changed plan or timetable count for everything that has not begun."""
    await plan_ahead(tx, group, now)


async def renew_dues(tx: Transaction, group_id: str, now: datetime) -> None:
    """Note what falls due around each session, by when the one that follows it is now.

    Of a class that is over only how long it helps to ask changes; what has happened stays so.
    """
    recent = await rescheduling.since(tx, group_id, now - PROMPT_USEFUL - timedelta(days=1))
    following = [each.starts_at for each in recent[1:]]
    for session, next_start in zip(recent, (*following, None), strict=False):
        plan = await plan_of(tx, session.plan_id)
        for due in dues_of(plan, session, next_start):
            if session.starts_at > now:
                await dues.put_due(tx, due)
            elif due.occasion is not Occasion.DIGEST:
                await dues.extend_due(tx, due)


async def move(tx: Transaction, session: Session, starts_at: datetime, now: datetime) -> None:
    """Put a session that has not begun at another time; what is due around it moves along."""
    zone = (await plan_of(tx, session.plan_id)).timezone
    ends_at = starts_at + (session.ends_at - session.starts_at)
    day = local(starts_at, zone).date()
    if local(starts_at, zone).strftime(SLOT) == session.slot:
        await rescheduling.put_back(tx, session, starts_at, ends_at, day)
    else:
        await rescheduling.move_session(tx, session, starts_at, ends_at, day, now)
    await say_anew(tx, session, now)
    await renew_dues(tx, session.group_id, now)


async def say_anew(tx: Transaction, before: Session, now: datetime) -> None:
    """Start afresh with what is due around a session that is at another time now.

    What was called out for one day no longer holds on another, if there is time for a new digest.
    """
    await dues.forget_open_dues(tx, before.id)
    session = await sessions.session(tx, before.id)
    plan = await plan_of(tx, session.plan_id)
    if session.local_day != before.local_day and digest_at(plan, session) > now:
        await dues.forget_dues(tx, session.id)
        await thaw(tx, session.id)
        for letter in ("digest", "picture"):
            await rescheduling.forget_letters(tx, f"{letter}/{session.id}/")


def digest_at(plan: PlanFile, session: Session) -> datetime:
    """When the digest of a session is due."""
    return session.starts_at - timedelta(minutes=plan.digest_before)


def dues_of(plan: PlanFile, session: Session, following: datetime | None) -> tuple[Due, ...]:
    """What falls due around a session; `following` is when the next one starts, if known.

    The prompt helps until the next class starts, or its memory fades; nobody is reminded in the
    quiet hours.
    """
    prompt_at = session.ends_at + timedelta(minutes=plan.prompt_after)
    too_late = min(prompt_at + PROMPT_USEFUL, following or prompt_at + PROMPT_USEFUL)
    remind_at = quiet(prompt_at + REMINDER_AFTER, plan.timetable.zone)

    def due(occasion: Occasion, at: datetime, not_after: datetime) -> Due:
        return Due(occasion=occasion, session_id=session.id, at=at, not_after=not_after)

    return (
        due(Occasion.DIGEST, digest_at(plan, session), session.starts_at),
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
    await dues.put_due(tx, replace(prompt, occasion=Occasion.REMINDER, at=at))
