"""What a digest and its picture are made from: read in one go, then worked out apart."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime

from bot.desk.beliefs import believe
from bot.desk.calendar import plan_of
from bot.planfile import PlanFile
from bot.storage import advice as kept
from bot.storage import alerts, groups, sessions
from bot.storage.alerts import StoredAlert
from bot.storage.asked import asked_about
from bot.storage.database import Transaction
from bot.storage.groups import Group
from bot.storage.history import reports_of_group
from bot.storage.members import members
from bot.storage.pauses import paused_members
from bot.storage.people import Person, people_by_id
from bot.storage.sessions import Session
from core.advice import advise_from
from core.capacity import Belief
from core.digest import Before, Digest, prepare_digest
from core.grid import MOST_CLASSES
from core.pitch import for_the_room
from core.plan import Plan
from core.reports import Settled
from core.stating import options_of
from core.suggestion import Advice, Suggestion


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """Everything that is known of a group before one of its classes."""

    group: Group
    session: Session
    plan: PlanFile
    people: tuple[Person, ...]
    names: Mapping[str, str]
    """Of everybody who ever had to do with the group, by id."""
    reports: Settled
    frozen: Mapping[str, tuple[Suggestion, ...]]
    """What was told already, by member."""
    classes: tuple[tuple[str, date], ...]
    """The last ones that were held, by session, the latest first."""
    asked: int | None
    """How many were asked about the latest of them."""
    alerts: tuple[StoredAlert, ...]
    """What holds and no instructor has dealt with."""
    paused: frozenset[str]


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkedOut:
    """What follows from the facts."""

    facts: Facts
    belief: Belief
    fresh: Advice
    """What would be called out, if nothing had been told yet."""
    told: Advice
    """The same with what was told in its place."""
    digest: Digest | None
    """None if nobody has joined."""


async def digest_facts(tx: Transaction, session: Session, now: datetime) -> Facts:
    """Read them."""
    people = await members(tx, session.group_id)
    classes = await _classes_before(tx, session)
    known = await people_by_id(tx, session.group_id)
    return Facts(
        group=await groups.group(tx, session.group_id),
        session=session,
        plan=await plan_of(tx, session.plan_id),
        people=people,
        names={person_id: person.name for person_id, person in known.items()},
        reports=await reports_of_group(tx, session.group_id),
        frozen=await kept.all_kept_advice(tx, session.id),
        classes=classes,
        asked=await asked_about(tx, classes[0][0]) if classes else None,
        alerts=await _alerts(tx, session, people),
        paused=await paused_members(tx, session.group_id, now),
    )


async def alerts_now(tx: Transaction, facts: Facts) -> tuple[StoredAlert, ...]:
    """The alerts once more, after something may have raised or ended some."""
    return await _alerts(tx, facts.session, facts.people)


async def _alerts(
    tx: Transaction, session: Session, people: tuple[Person, ...]
) -> tuple[StoredAlert, ...]:
    present = {person.id for person in people}
    found = await alerts.open_alerts(tx, session.group_id)
    return tuple(each for each in found if each.fact.member in present)


async def _classes_before(tx: Transaction, session: Session) -> tuple[tuple[str, date], ...]:
    found: list[tuple[str, date]] = []
    before = await sessions.session_before(tx, session)
    while before is not None and len(found) < MOST_CLASSES:
        found.append((before.id, before.local_day))
        before = await sessions.session_before(tx, before)
    return tuple(found)


def work_out(facts: Facts) -> WorkedOut:
    """Let core decide; the belief is learned once for all of it. It takes a while."""
    plan, on = facts.plan.plan, facts.session.local_day
    ids = tuple(person.id for person in facts.people)
    belief = believe(plan, facts.reports, ids, on)
    fresh = advise_from(belief, plan, facts.reports, ids, on)
    told = _as_told(facts.frozen, plan, fresh)
    before = Before(
        on=facts.classes[0][1] if facts.classes else None,
        asked=facts.asked,
        alerts=tuple(each.fact for each in facts.alerts if each.acknowledged_at is None),
        seen=tuple(each.fact for each in facts.alerts if each.acknowledged_at is not None),
        room=for_the_room(belief, plan, fresh),
    )
    digest = prepare_digest(
        plan, told, facts.reports, before, members=ids, on=on, paused=facts.paused
    )
    return WorkedOut(
        facts=facts, belief=belief, fresh=fresh, told=told, digest=digest if ids else None
    )


def _as_told(frozen: Mapping[str, tuple[Suggestion, ...]], plan: Plan, advice: Advice) -> Advice:
    if not frozen:
        return advice
    old = {(member, each.movement): each for member, those in frozen.items() for each in those}
    called = tuple(old.get((new.member, new.movement), new) for new in advice.called)
    return replace(advice, called=called, options=options_of(plan, called))
