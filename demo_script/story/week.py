"""One week: before class, in class, the same evening, and the next morning."""

from dataclasses import dataclass
from datetime import timedelta

from bot.storage import groups, prompts, sessions
from bot.storage.advice import kept_advice
from bot.storage.people import person_of_account
from bot.storage.sessions import Session
from core.movement import Dose
from core.rules import REMINDER_AFTER
from demo_script.cast import Actor
from demo_script.story import incidents
from demo_script.story.ledger import TrueBout
from demo_script.story.replies import correct, reply
from demo_script.story.tale import Tale
from demo_script.telling import several

LATEST = 75  # minutes after the prompt within which the same evening's answers come


@dataclass(slots=True, kw_only=True)
class Evening:
    """Who does what after one class."""

    came: list[Actor]
    at_once: list[Actor]
    late: list[Actor]
    never: list[Actor]


async def play_week(tale: Tale, week: int) -> None:
    """From the day of the class to whatever happens in the days after it."""
    session = await _session(tale)
    tale.ledger.sessions[week] = session.id
    tale.telling.week(week, tale.script.weeks, f"{session.local_day:%a %-d %b}")
    await _before(tale, week, session)
    evening = await _class(tale, week, session)
    prompt_at = session.ends_at + timedelta(minutes=tale.plan.prompt_after)
    seen = len(tale.witness.sights)
    await tale.leap(prompt_at)
    tale.ledger.prompted[week] = range(seen, len(tale.witness.sights))
    tale.ledger.prompts[week] = await _prompts(tale, session)
    if week == tale.script.strangers:
        await incidents.strangers(tale)
    await _evening(tale, week, evening)
    await incidents.acknowledge(tale)
    tale.ledger.reminders[week] = prompt_at + REMINDER_AFTER
    await tale.leap(prompt_at + REMINDER_AFTER)
    await _morning(tale, week, evening)
    await incidents.acknowledge(tale)
    if week == tale.script.heals:
        await incidents.heal(tale)


async def _session(tale: Tale) -> Session:
    async with tale.theatre.house.database.transaction() as tx:
        group, *_ = await groups.all_groups(tx)
        found = await sessions.next_session(tx, group.id, tale.now)
    if found is None:
        raise LookupError("no class is planned")
    return found


async def _prompts(tale: Tale, session: Session) -> frozenset[str]:
    async with tale.theatre.house.database.transaction() as tx:
        return frozenset(each.id for each in await prompts.prompts_of_session(tx, session.id))


async def _before(tale: Tale, week: int, session: Session) -> None:
    """Some ask at noon and some after the digest; the first answer is shown in full."""
    asking = [actor for actor in tale.cast if actor.does(actor.habits.asks)]
    await tale.leap(tale.at(session.local_day, "12:40"))
    for actor in asking[:1]:
        await incidents.ask(tale, actor, full=week == 1)
    await tale.leap(session.starts_at - timedelta(minutes=tale.plan.digest_before), full=True)
    tale.pass_until(session.starts_at - timedelta(minutes=20))
    for actor in asking[1:]:
        await incidents.ask(tale, actor)


async def _class(tale: Tale, week: int, session: Session) -> Evening:
    """Everyone who comes does what they were told, as far as they can."""
    await tale.leap(session.ends_at)
    evening = Evening(came=[], at_once=[], late=[], never=[])
    async with tale.theatre.house.database.transaction() as tx:
        for actor in tale.cast:
            person = await person_of_account(tx, actor.account.person_id)
            told = None if person is None else await kept_advice(tx, session.id, person.id)
            if told is None:
                raise LookupError(f"{actor.name} was told nothing for week {week}")
            tale.ledger.told[week, actor.name] = told
    for actor in tale.cast:
        train(tale, actor, week, evening)
    away = [actor.name for actor in tale.cast if actor not in evening.came]
    tale.telling.note(
        f"The class: {len(evening.came)} came" + (f"; away: {', '.join(away)}." if away else ".")
    )
    return evening


def train(tale: Tale, actor: Actor, week: int, evening: Evening) -> None:
    """Come or not, do it or not, and mean to answer or not."""
    comes = actor.body.comes()
    if comes:
        evening.came.append(actor)
        for told in tale.ledger.told[week, actor.name]:
            usually, by_plan = (
                actor.body.oracle_effort(told.movement, dose)
                for dose in (told.dose, _planned(tale, told.movement))
            )
            done = actor.perform(told.movement, told.dose)
            tale.ledger.bouts.append(
                TrueBout(
                    week=week,
                    member=actor.name,
                    movement=told.movement,
                    dose=told.dose,
                    performance=done,
                    usually=usually,
                    by_plan=by_plan,
                )
            )
    answers = actor.body.replies() if comes else actor.does(actor.habits.owns_up)
    if not answers:
        evening.never.append(actor)
    elif actor.does(actor.habits.at_once):
        evening.at_once.append(actor)
    else:
        evening.late.append(actor)


def _planned(tale: Tale, movement: str) -> Dose:
    """What the plan says for everybody."""
    line = tale.plan.plan.line(movement)
    assert line is not None
    return line.dose


async def _evening(tale: Tale, week: int, evening: Evening) -> None:
    """The answers of the same evening, in the order in which they come."""
    first_at = tale.now
    minutes = {actor.name: int(actor.luck.integers(2, LATEST)) for actor in evening.at_once}
    in_order = sorted(evening.at_once, key=lambda actor: (minutes[actor.name], actor.name))
    for place, actor in enumerate(in_order):
        tale.pass_until(first_at + timedelta(minutes=minutes[actor.name]))
        await reply(tale, actor, week, full=week == 1 and place == 0)


async def _morning(tale: Tale, week: int, evening: Evening) -> None:
    """Late answers, a correction, and silence."""
    for actor in evening.late:
        tale.pass_until(tale.now + timedelta(minutes=7))
        await reply(tale, actor, week)
    if week == tale.script.corrects:
        for actor in (each for each in evening.at_once if each.habits.corrects):
            tale.pass_until(tale.now + timedelta(minutes=30))
            await correct(tale, actor, week)
    if evening.never:
        tale.telling.note(f"No answer: {several([each.name for each in evening.never])}.")
