"""What each member should do in a session: worked out, and frozen once it was told."""

from dataclasses import dataclass, replace
from datetime import datetime

from bot.desk.beliefs import advise
from bot.desk.calendar import plan_of
from bot.planfile import PlanFile
from bot.storage import advice as kept
from bot.storage.database import Transaction
from bot.storage.history import Stored, stored_of_group
from bot.storage.members import members
from bot.storage.people import Person
from bot.storage.sessions import Session
from core.plan import Plan
from core.stating import options_of
from core.suggestion import Advice, Suggestion


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """Everything that the advice for a session is worked out from."""

    session: Session
    plan: PlanFile
    members: tuple[str, ...]
    stored: Stored


async def read_known(tx: Transaction, session: Session) -> Known:
    """Read it, as it is now."""
    return Known(
        session=session,
        plan=await plan_of(tx, session.plan_id),
        members=tuple(person.id for person in await members(tx, session.group_id)),
        stored=await stored_of_group(tx, session.group_id),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Ready:
    """What is said in a session is made from: its plan, and the advice that was worked out."""

    plan: PlanFile
    advice: Advice


def advise_on(known: Known) -> Ready:
    """What follows from it; in a large group it takes a while, so it's better done in a thread."""
    on = known.session.local_day
    advice = advise(known.plan.plan, known.stored.reports(), known.members, on)
    return Ready(plan=known.plan, advice=advice)


async def work_out(tx: Transaction, session: Session) -> Ready:
    """All of it now, while everybody else waits."""
    return advise_on(await read_known(tx, session))


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


async def told(
    tx: Transaction, session: Session, person: Person, ready: Ready | None = None
) -> tuple[Suggestion, ...]:
    """What this member does in that session: as it was frozen, or else as it stands now."""
    frozen = await kept.kept_advice(tx, session.id, person.id)
    if frozen is not None:
        return frozen
    ready = ready or await work_out(tx, session)
    return tuple(each for each in ready.advice.called if each.member == person.id)
