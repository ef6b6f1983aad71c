"""The summary after a class, and its demands taken up or put back."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime, time, timedelta

from pydantic import TypeAdapter

from bot.desk.alerts import watch_group
from bot.desk.beliefs import believe
from bot.desk.calendar import is_night, plan_of
from bot.desk.letters import Errand, change, say
from bot.planfile import PlanFile, write_plan_file
from bot.storage import alerts, groups, sessions, summaries
from bot.storage.asked import asked_about
from bot.storage.database import Transaction
from bot.storage.groups import Group
from bot.storage.history import reports_of_group
from bot.storage.members import members
from bot.storage.outbox import Kind, Priority
from bot.storage.own_plans import follow_group
from bot.storage.people import Person, people_by_id
from bot.storage.sessions import Session
from bot.storage.summaries import Summary
from bot.timetable import local, to_utc
from bot.words.message import Message
from bot.words.speech import Speech, speech_for
from bot.words.summary import Summed, summary_message
from core.alert import Alert
from core.demands import DemandChange, demand_changes, with_demands
from core.pitch import pitch_of
from core.plan import Plan
from core.reports import Settled

MORNING = time(10)
"""Local time of the next day by which a class is summed up, whoever hasn't answered by then."""
USEFUL = timedelta(days=1)
"""How much later it still helps, after a night of downtime."""
ASKED_SINCE = timedelta(hours=36)
OFFERED_ANEW = timedelta(weeks=4)
"""How long demands that were offered and not taken up aren't offered once more."""
_CHANGES = TypeAdapter(tuple[DemandChange, ...])


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """What a class is summed up from."""

    session: Session
    group: Group
    plan: PlanFile
    """The group's plan from now on, whose demands may be off."""
    members: tuple[str, ...]
    reports: Settled
    asked: int


async def plan_summaries(tx: Transaction, now: datetime) -> None:
    """Note when each class falls due whose members were asked."""
    for session in await summaries.sessions_to_sum_up(tx, now - ASKED_SINCE):
        zone = (await plan_of(tx, session.plan_id)).timezone
        day = local(session.ends_at, zone).date() + timedelta(days=1)
        at = to_utc(datetime.combine(day, MORNING), zone)
        following = await sessions.session_after(tx, session)
        latest = at + USEFUL if following is None else min(at + USEFUL, following.starts_at)
        await summaries.put_summary(tx, session.id, min(at, latest), latest)


async def summaries_now(tx: Transaction, now: datetime) -> tuple[Session, ...]:
    """Classes to sum up: everyone has answered, or the next morning has come; never at night."""
    found = []
    for each in await summaries.open_summaries(tx):
        session = await sessions.session(tx, each.session_id)
        if session.cancelled or now > each.not_after or not await asked_about(tx, session.id):
            await summaries.end_summary(tx, session.id, None, now)
        elif await _is_ready(tx, each, session, now):
            found.append(session)
    return tuple(found)


async def _is_ready(tx: Transaction, due: Summary, session: Session, now: datetime) -> bool:
    if is_night(now, (await plan_of(tx, session.plan_id)).timezone):
        return False
    if now >= due.at:
        return True
    waiting = await summaries.unanswered(tx, session.id)
    return waiting + await summaries.still_to_be_asked(tx, session.id) == 0


async def summary_facts(tx: Transaction, session: Session) -> Facts:
    """Read them."""
    group = await groups.group(tx, session.group_id)
    return Facts(
        session=session,
        group=group,
        plan=await plan_of(tx, group.plan_id),
        members=tuple(person.id for person in await members(tx, group.id)),
        reports=await reports_of_group(tx, group.id),
        asked=await asked_about(tx, session.id),
    )


def changes_by_answers(facts: Facts) -> tuple[DemandChange, ...]:
    """Which demands are off, by everything that the group has answered. It takes a while."""
    plan, on = facts.plan.plan, facts.session.local_day
    return demand_changes(believe(plan, facts.reports, facts.members, on), plan)


async def send_summary(
    tx: Transaction, facts: Facts, changes: tuple[DemandChange, ...], now: datetime
) -> None:
    """Send it to the group's instructors, once."""
    session = facts.session
    if await _offered_lately(tx, facts, changes, now):
        changes = ()
    offer = _CHANGES.dump_json(changes).decode() if changes else None
    if not await summaries.end_summary(tx, session.id, offer, now):
        return
    await watch_group(tx, facts.group.id, facts.reports, f"summary/{session.id}", now)
    for leader in await groups.leaders(tx, facts.group.id):
        message = await _message(tx, facts, changes, speech_for(leader.language))
        errand = Errand(id=letter_of(session, leader), priority=Priority.DIGEST, kind=Kind.DIGEST)
        await say(tx, leader.account, message, errand, now)


def letter_of(session: Session, leader: Person) -> str:
    """The letter that sums a class up for one of its group's instructors."""
    return f"summary/{session.id}/{leader.id}"


async def show_summary(
    tx: Transaction, session: Session, besides: Person, reason: str, now: datetime
) -> None:
    """Let the summaries of the other instructors say what one of them has just done."""
    for leader in await groups.leaders(tx, session.group_id):
        if leader.id != besides.id:
            letter = letter_of(session, leader)
            message = await summary_now(tx, session, speech_for(leader.language))
            await change(
                tx, leader.account, message, Errand(id=f"{letter}/{reason}"), now, letter=letter
            )


async def _offered_lately(
    tx: Transaction, facts: Facts, changes: tuple[DemandChange, ...], now: datetime
) -> bool:
    """Whether the instructors know of all of it: what they left as it was isn't said every week."""
    last = await summaries.last_offer(tx, facts.group.id, now - OFFERED_ANEW)
    known = {(e.movement, e.variation) for e in _CHANGES.validate_json(last)} if last else set()
    return bool(changes) and known >= {(each.movement, each.variation) for each in changes}


async def apply_demands(
    tx: Transaction, session: Session, reason: str, now: datetime
) -> tuple[DemandChange, ...]:
    """Let the offered demands hold from now on; empty if that no longer fits the plan."""
    due = await summaries.summary(tx, session.id)
    if due is None or due.demands is None or due.applied_at is not None:
        return ()
    group = await groups.group(tx, session.group_id)
    plan = await plan_of(tx, group.plan_id)
    offered = _CHANGES.validate_json(due.demands)
    changes = tuple(each for each in offered if _fits(plan.plan, each))
    better = replace(plan, plan=with_demands(plan.plan, changes))
    if better == plan:
        return ()
    changed = await groups.change_plan(
        tx, group, group.name, write_plan_file(better), f"demands/{reason}", now
    )
    await follow_group(tx, changed, now)
    await summaries.note_applied(tx, session.id, group.plan_id, changed.plan_id, now)
    return changes


async def undo_demands(tx: Transaction, session: Session, reason: str, now: datetime) -> bool:
    """Put the plan back as it was; false if it has been changed since."""
    due = await summaries.summary(tx, session.id)
    group = await groups.group(tx, session.group_id)
    if due is None or due.plan_before is None or due.plan_after != group.plan_id:
        return False
    document = await groups.plan_document(tx, due.plan_before)
    changed = await groups.change_plan(tx, group, group.name, document, f"undo/{reason}", now)
    await follow_group(tx, changed, now)
    await summaries.note_undone(tx, session.id)
    return True


async def summary_now(tx: Transaction, session: Session, speech: Speech) -> Message:
    """The summary as it stands in the chat after its demands were taken up or put back."""
    due = await summaries.summary(tx, session.id)
    changes = _CHANGES.validate_json(due.demands) if due and due.demands else ()
    taken = due is not None and due.applied_at is not None
    return await _message(tx, await summary_facts(tx, session), changes, speech, taken=taken)


async def _message(
    tx: Transaction,
    facts: Facts,
    changes: tuple[DemandChange, ...],
    speech: Speech,
    *,
    taken: bool = False,
) -> Message:
    session = facts.session
    target = facts.plan.plan.target
    summed = Summed(
        group=facts.group.name,
        group_id=facts.group.id,
        session_id=session.id,
        pitch=pitch_of(facts.reports, on=session.local_day, target=target, asked=facts.asked),
        alerts=await _about(tx, session),
        changes=changes,
        names=await _names(tx, facts.group.id),
        taken=taken,
    )
    return summary_message(speech, summed)


async def _about(tx: Transaction, session: Session) -> tuple[Alert, ...]:
    """The alerts that this class has raised or kept alive."""
    return tuple(
        each.fact
        for each in await alerts.open_alerts(tx, session.group_id)
        if any(seen.on == session.local_day for seen in each.fact.evidence)
    )


async def _names(tx: Transaction, group_id: str) -> Mapping[str, str]:
    known = await people_by_id(tx, group_id)
    return {person_id: person.name for person_id, person in known.items()}


def _fits(plan: Plan, change: DemandChange) -> bool:
    """Whether the plan still says what was found to be off."""
    line = plan.line(change.movement)
    rungs = () if line is None else line.movement.ladder
    return any(e.name == change.variation and e.demand == change.written for e in rungs)
