"""Another plan for a group: what holds now, what would change, and from which class on."""

from dataclasses import dataclass
from datetime import datetime

from bot.desk import calendar
from bot.desk.digests import send_digest
from bot.planfile import PlanFile, write_plan_file
from bot.planfile.draft import changed_plan, draft_of
from bot.storage import groups, own_plans, sessions
from bot.storage.database import Transaction
from bot.storage.dues import Due, Occasion, end_due
from bot.storage.groups import Group
from bot.storage.names import name_row
from bot.storage.sessions import Session

LOOKED_AT = 2
"""Classes looked at for the next one: the first of them may be running."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Coming:
    """What holds for a group's next class."""

    group: Group
    session: Session | None
    """The next class that has not begun; None if the timetable has ended."""
    plan_id: str
    plan: PlanFile
    """The group's plan file, with the movements and efforts of that class."""
    own: bool
    """Whether that class has a plan of its own."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Changed:
    """A plan that has changed."""

    plan: PlanFile
    session: Session | None
    """The first class that it counts for."""
    called: bool
    """Whether what is done in that class had been called out already, and has been again."""


async def coming(tx: Transaction, group: Group, now: datetime) -> Coming:
    """The next class of a group with its plan. One that has begun keeps what it has."""
    classes = await sessions.sessions_from(tx, group.id, now, LOOKED_AT)
    session = next((each for each in classes if each.starts_at > now), None)
    usual = await calendar.plan_of(tx, group.plan_id)
    if session is None or session.plan_id == group.plan_id:
        return Coming(group=group, session=session, plan_id=group.plan_id, plan=usual, own=False)
    plan = await calendar.plan_of(tx, session.plan_id)
    return Coming(
        group=group,
        session=session,
        plan_id=session.plan_id,
        plan=changed_plan(usual, draft_of(plan)),
        own=True,
    )


async def change_once(
    tx: Transaction, now_holds: Coming, wanted: PlanFile, reason: str, now: datetime
) -> Changed | None:
    """Let the next class alone have these movements and efforts; None if there is none to come."""
    group, session = now_holds.group, now_holds.session
    if session is None:
        return None
    usual = await calendar.plan_of(tx, group.plan_id)
    plan = changed_plan(usual, draft_of(wanted))
    plan_id = name_row("plan", group.id, session.id, reason)
    await groups.add_plan(tx, plan_id, group.id, write_plan_file(plan), now)
    called = await own_plans.was_called(tx, session.id)
    await own_plans.give_own_plan(tx, session.id, plan_id, now)
    if called:
        await _call_again(tx, session.id, reason, now)
    return Changed(plan=plan, session=session, called=called)


async def change_always(
    tx: Transaction,
    now_holds: Coming,
    wanted: PlanFile,
    reason: str,
    now: datetime,
    document: str | None = None,
) -> Changed:
    """Let everything that has not begun follow this plan; `document` is the file as it was sent.

    Sessions are made anew only where their times are others. A class that has begun, or is over,
    keeps the plan that it had.
    """
    before = await calendar.plan_of(tx, now_holds.group.plan_id)
    first = now_holds.session
    called = first is not None and await own_plans.was_called(tx, first.id)
    text = document or write_plan_file(wanted)
    group = await groups.change_plan(tx, now_holds.group, wanted.name, text, reason, now)
    if first is not None:
        await own_plans.drop_own_plan(tx, first.id)
    if _times(before) != _times(wanted):
        await calendar.replan(tx, group, now)
    await own_plans.follow_group(tx, group, now)
    again = (await coming(tx, group, now)).session
    called = called and first is not None and again is not None and again.id == first.id
    if called and again is not None:
        await _call_again(tx, again.id, reason, now)
    return Changed(plan=wanted, session=again, called=called)


async def _call_again(tx: Transaction, session_id: str, reason: str, now: datetime) -> None:
    """What is done in a class had been called out before its plan changed: call it out anew.

    The instructor who changes a plan so late means that class. Members who look see the new one.
    """
    await own_plans.thaw(tx, session_id)
    session = await sessions.session(tx, session_id)
    await send_digest(tx, session, now, again=reason)
    done = Due(occasion=Occasion.DIGEST, session_id=session_id, at=now, not_after=now)
    await end_due(tx, done, now, dropped=False)


def _times(plan_file: PlanFile) -> tuple[object, ...]:
    """What decides when sessions are, and what falls due around them."""
    return plan_file.timetable, plan_file.prompt_after, plan_file.digest_before
