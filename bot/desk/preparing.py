"""What one member is to be asked about one class, with what they were told to do in it."""

from datetime import datetime

from bot.storage import advice as kept
from bot.storage import prompts
from bot.storage.database import Transaction
from bot.storage.people import Person
from bot.storage.prompts import Prompt
from bot.storage.sessions import Session
from core.plan import Plan
from core.questions import SESSION, Asked
from core.suggestion import Advice, Ask, Suggestion


async def prepare(
    tx: Transaction, session: Session, plan: Plan, advice: Advice, person: Person, now: datetime
) -> Prompt:
    """What this member is asked about that class."""
    asks = {ask.member: ask for ask in advice.asks}
    frozen = await kept.kept_advice(tx, session.id, person.id)
    told = frozen or tuple(each for each in advice.called if each.member == person.id)
    prompt_id = prompts.prompt_id(session.id, person.id)
    return Prompt(
        id=prompt_id,
        session_id=session.id,
        person_id=person.id,
        told=tuple((each.movement, each.dose) for each in told),
        asked=_asked(plan, told, asks[person.id]),
        showing=SESSION,
        letter=f"prompt/{prompt_id}",
        opened_at=now,
    )


def _asked(plan: Plan, told: tuple[Suggestion, ...], ask: Ask) -> tuple[Asked, ...]:
    doses = {each.movement: each.dose for each in told}
    return tuple(
        Asked(
            movement=line.movement.name,
            dose=doses[line.movement.name],
            ladder=tuple(each.name for each in line.movement.ladder),
            reserve=line.movement.name in ask.reserve,
        )
        for line in plan.lines  # in the order of the class
        if line.movement.name in ask.movements and line.movement.name in doses
    )
