"""What each member should do in a session: worked out, and frozen once it was told."""

from dataclasses import replace
from datetime import datetime

from bot.desk.beliefs import advise
from bot.desk.calendar import plan_of
from bot.planfile import PlanFile
from bot.storage import advice as kept
from bot.storage.database import Transaction
from bot.storage.history import reports_of_group
from bot.storage.members import members
from bot.storage.people import Person
from bot.storage.sessions import Session
from core.digest import options_of
from core.plan import Plan
from core.reports import Reports
from core.suggestion import Advice, Suggestion


async def work_out(
    tx: Transaction, session: Session
) -> tuple[PlanFile, Reports, tuple[Person, ...], Advice]:
    """Everything that is known for a session now: the plan, the reports, who takes part, advice."""
    plan = await plan_of(tx, session.plan_id)
    reports = await reports_of_group(tx, session.group_id)
    people = await members(tx, session.group_id)
    ids = tuple(person.id for person in people)
    return plan, reports, people, advise(plan.plan, reports, ids, session.local_day)


async def freeze(tx: Transaction, session: Session, advice: Advice, now: datetime) -> None:
    """Keep what is called out, so that everyone is told the same until the class is over."""
    await kept.keep_advice(tx, session.id, advice.called, now)


async def as_told(tx: Transaction, session: Session, plan: Plan, advice: Advice) -> Advice:
    """The advice with what was frozen in place of what would be called out now."""
    frozen = await kept.all_kept_advice(tx, session.id)
    if not frozen:
        return advice
    called = tuple(
        next((old for old in frozen.get(new.member, ()) if old.movement == new.movement), new)
        for new in advice.called
    )
    return replace(advice, called=called, options=options_of(plan, called))


async def told(tx: Transaction, session: Session, person: Person) -> tuple[Suggestion, ...]:
    """What this member does in that session: as it was frozen, or else as it stands now."""
    frozen = await kept.kept_advice(tx, session.id, person.id)
    if frozen is not None:
        return frozen
    _, _, _, advice = await work_out(tx, session)
    return tuple(each for each in advice.called if each.member == person.id)
