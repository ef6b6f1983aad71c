"""The weeks before the day: classes are held, and answers are written down at once."""

from datetime import datetime, timedelta
from functools import partial

import numpy as np

from bot.storage import prompts, sessions
from bot.storage.database import Transaction
from bot.storage.people import person_of_account
from bot.storage.prompts import Prompt
from bot.storage.sessions import Session
from core.questions import ABSENT, FINE, HURT, SESSION, UNFINISHED, Question, Said, Topic
from core.rules import RESERVE_FROM_EFFORT, RESERVE_UP_TO_EFFORT
from demo_script.busy_day.classes import train_all
from demo_script.busy_day.day import Day, StagedGroup
from demo_script.busy_day.people import RETURNING
from demo_script.cast import Actor
from demo_script.story.incidents import acknowledge

MORNING_AFTER = "10:30"
"""When reminders and summaries of the day before have come, too."""


async def live_through(day: Day) -> None:
    """All classes before the day, with the bot doing what it does around each."""
    day.telling.quiet, told = True, day.telling.quiet
    for week in range(1, day.script.day):
        for group in day.groups:
            if group.tale.plan.starts.date() <= day.day - timedelta(weeks=day.script.day - week):
                await _note_class(day, group, week)
        morning = day.at(MORNING_AFTER, days_later=1 - 7 * (day.script.day - week))
        day.agenda.note(morning, partial(day.theatre.leap, morning))
        await day.agenda.go_through(day.theatre.clock.push_to)
        for group in day.groups:
            await acknowledge(group.tale)
    day.telling.quiet = told
    day.witness.new()
    day.telling.note(
        f"{day.script.day - 1} weeks pass; {RETURNING} is away after the first of them."
    )


async def _note_class(day: Day, group: StagedGroup, week: int) -> None:
    async with day.theatre.house.database.transaction() as tx:
        session = await sessions.next_session(tx, group.id, day.now)
    assert session is not None, "they meet every week"
    plan = group.tale.plan
    due = session.ends_at + timedelta(minutes=plan.prompt_after)
    digest = session.starts_at - timedelta(minutes=plan.digest_before)
    day.agenda.note(digest, partial(day.theatre.leap, digest))
    day.agenda.note(session.ends_at, partial(_hold, day, group, session, week))
    day.agenda.note(due, partial(_answer, day, group, session, week, due))


async def _hold(day: Day, group: StagedGroup, session: Session, week: int) -> None:
    await day.theatre.leap(session.ends_at)
    away = frozenset({RETURNING} if week > 1 else ())
    await train_all(group.tale, session, week, away)


async def _answer(day: Day, group: StagedGroup, session: Session, week: int, at: datetime) -> None:
    await day.theatre.leap(at)
    async with day.theatre.house.database.transaction() as tx:
        asked = {each.person_id: each for each in await prompts.prompts_of_session(tx, session.id)}
        for actor in group.tale.cast:
            person = await person_of_account(tx, actor.account.person_id)
            prompt = None if person is None else asked.get(person.id)
            if prompt is not None:
                await _write(tx, group, actor, prompt, week, at)


async def _write(
    tx: Transaction, group: StagedGroup, actor: Actor, prompt: Prompt, week: int, at: datetime
) -> None:
    """What they would have tapped, without the taps."""
    for question, said in _said(group, actor, prompt, week, at).items():
        await prompts.put_answer(tx, prompt, question, said, update_id=0)
    await prompts.show(tx, prompt, None)


def _said(
    group: StagedGroup, actor: Actor, prompt: Prompt, week: int, at: datetime
) -> dict[Question, Said]:
    efforts = group.tale.ledger.efforts(week, actor.name)
    if not efforts:
        return {SESSION: Said(word=ABSENT, at=at)}
    mean = float(np.mean([each.true_effort for each in efforts.values()]))
    said = {
        SESSION: Said(number=float(actor.body.rate(mean)), at=at),
        HURT: Said(word=FINE, at=at),
    }
    for place, asked in enumerate(prompt.asked):
        felt, effort = efforts[asked.movement], Question(Topic.EFFORT, place)
        if felt.completed is not None:
            said[effort] = Said(word=UNFINISHED, at=at)
            said[Question(Topic.COMPLETED, place)] = Said(number=felt.completed, at=at)
            continue
        said[effort] = Said(number=float(felt.rating), at=at)
        if asked.reserve and RESERVE_FROM_EFFORT <= felt.rating < RESERVE_UP_TO_EFFORT:
            said[Question(Topic.RESERVE, place)] = Said(number=felt.reserve, at=at)
    return said
