"""What changes next time, told to a member as soon as they have said everything."""

from datetime import datetime
from functools import partial

from bot.clock import Clock
from bot.desk import prompts as desk
from bot.desk.advice import Known, read_known
from bot.desk.beliefs import called_doses
from bot.desk.prompts import OpenPrompt, Screen
from bot.desk.together import Latest, Together
from bot.storage import prompts, sessions
from bot.storage.database import Database, Transaction
from bot.storage.people import Person
from bot.storage.sessions import Session
from bot.tasks import aside
from core.movement import Dose
from core.questions import next_question

Doses = dict[tuple[str, str], Dose]
"""By member and movement."""


class NextTimes:
    """What everybody does next time: worked out for several at once, told to each once."""

    def __init__(self, clock: Clock) -> None:
        self.doses = Together[Doses](clock)
        """By the id of the class."""
        self.told = Latest()
        """By the id of the prompt."""


async def tell_next_time(
    database: Database,
    next_times: NextTimes,
    prompt_id: str,
    person: Person,
    screen: Screen,
    now: datetime,
) -> None:
    """Add to the summary what the answers have changed; the work is done outside transactions.

    It isn't repeated after a kill: /variant says the same.
    """
    tell = partial(_tell, database, next_times.doses, prompt_id, person, screen, now)
    await next_times.told.run(prompt_id, tell)


async def _tell(
    database: Database,
    together: Together[Doses],
    prompt_id: str,
    person: Person,
    screen: Screen,
    now: datetime,
) -> None:
    async with database.transaction(patient=True, lasting=False) as tx:
        opened = await _complete(tx, prompt_id, person)
        following = None if opened is None else await sessions.session_after(tx, opened.session)
    if opened is None or following is None:
        return
    doses = await together.run(following.id, partial(_doses, database, following))
    changes = _changes(opened, doses)
    if not changes:
        return
    async with database.transaction(patient=True, lasting=False) as tx:
        still = await _complete(tx, prompt_id, person)
        if still is not None and still.answers == opened.answers:  # or it is told anew
            await desk.show_summary(tx, still, screen, now, changes)


async def _doses(database: Database, session: Session) -> Doses:
    """What everybody would be called to do in that session, by what is known now."""
    known = await database.read(lambda tx: read_known(tx, session))
    return await aside(_called, known)


def _called(known: Known) -> Doses:
    reports, on = known.stored.reports(), known.session.local_day
    return called_doses(known.plan.plan, reports, known.members, on)


async def _complete(tx: Transaction, prompt_id: str, person: Person) -> OpenPrompt | None:
    """The prompt, if all is said and the summary is on screen."""
    prompt = await prompts.prompt_of(tx, prompt_id, person.id)
    if prompt is None or prompt.showing is not None:
        return None
    opened = await desk.look_up(tx, prompt, person)
    return opened if next_question(prompt.asked, opened.answers) is None else None


def _changes(opened: OpenPrompt, doses: Doses) -> tuple[tuple[str, Dose], ...]:
    """The asked movements whose dose is another one next time."""
    coming = {
        each.movement: doses.get((opened.person.id, each.movement), each.dose)
        for each in opened.prompt.asked
    }
    return tuple(
        (each.movement, coming[each.movement])
        for each in opened.prompt.asked
        if coming[each.movement] != each.dose
    )
