"""How long a digest takes: forty members, twelve movements, two years of weekly classes.

`python -m tests.benchmarks.digest [--members N] [--classes N]`. A real database is filled through
the bot's own storage; then the digest, its pictures and the page to print are made as in a turn.
"""

import argparse
import asyncio
import tempfile
import time
from collections.abc import Awaitable
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import TypeVar

import numpy as np

from bot.desk.digest_facts import digest_facts, work_out
from bot.desk.digests import messages, send_digest
from bot.desk.handout import handout_of
from bot.desk.overview import draw_overviews
from bot.pictures.render import printed
from bot.planfile import PlanFile, write_plan_file
from bot.storage import groups, people, prompts, sessions
from bot.storage.database import Transaction, open_database
from bot.storage.groups import Group
from bot.storage.people import Person
from bot.storage.prompts import Prompt
from bot.storage.sessions import Session
from bot.words.message import length
from bot.words.speech import speech_for
from core.movement import Dose
from core.plan import Plan
from core.questions import Asked, Question, Said, Topic
from tests.simulation.plans import mixed

FIRST = datetime(2026, 1, 8, 18, 30, tzinfo=UTC)
WEEK = timedelta(weeks=1)
ANSWERS = 0.75
"""Share of the members who answer about a class."""
T = TypeVar("T")


def plan_of(movements: int) -> PlanFile:
    """Twelve movements are six, twice, under other names."""
    lines = []
    for at in range(movements):
        line = mixed().lines[at % 6]
        name = f"{line.movement.name} {at // 6 + 1}"
        lines.append(replace(line, movement=replace(line.movement, name=name)))
    return PlanFile(
        name="Harbour Hall strength",
        timezone="UTC",
        starts=FIRST.replace(tzinfo=None),
        rrule="FREQ=WEEKLY;BYDAY=TH",
        minutes=50,
        prompt_after=10,
        digest_before=60,
        plan=Plan(lines=tuple(lines), minutes=50, target=7.0, ceiling=9.0),
    )


async def fill(
    tx: Transaction, plan: PlanFile, members: int, classes: int, luck: np.random.Generator
) -> Session:
    """A group with its whole history; the class that comes next."""
    leader = await people.remember(tx, 1, "Ines", "en", FIRST - WEEK)
    group = await groups.make_group(
        tx, leader, plan.name, write_plan_file(plan), "benchmark", FIRST - WEEK
    )
    joined = [await join(tx, group, number) for number in range(members)]
    for week in range(classes + 1):
        session = await held(tx, group, week)
        if week == classes:
            return session
        for person in joined:
            answers = bool(luck.random() < ANSWERS)
            await ask(tx, plan.plan, session, person, luck, answers=answers)
    raise AssertionError("there is always a class to come")


async def join(tx: Transaction, group: Group, number: int) -> Person:
    """One more member."""
    person = await people.remember(tx, 100 + number, f"Member {number} Berg", "en", FIRST - WEEK)
    await tx.execute(
        "INSERT INTO membership (group_id, person_id, agreed_at) VALUES (:group, :person, :at)",
        group=group.id,
        person=person.id,
        at="2026-01-01T12:00:00Z",
    )
    return person


async def held(tx: Transaction, group: Group, week: int) -> Session:
    """The class of that week."""
    starts = FIRST + week * WEEK
    slot = f"{starts:%Y-%m-%dT%H:%M}"
    session = Session(
        id=sessions.session_id(group.id, slot),
        group_id=group.id,
        plan_id=group.plan_id,
        slot=slot,
        starts_at=starts,
        ends_at=starts + timedelta(minutes=50),
        local_day=date(starts.year, starts.month, starts.day),
        cancelled=False,
        moved=False,
    )
    await sessions.put_session(tx, session)
    return session


async def ask(
    tx: Transaction,
    plan: Plan,
    session: Session,
    person: Person,
    luck: np.random.Generator,
    *,
    answers: bool,
) -> None:
    """What one member was told and asked, and what they said, about two movements."""
    told = tuple((line.movement.name, near(line.dose, luck)) for line in plan.lines)
    chosen = luck.choice(len(plan.lines), 2, replace=False)
    asked = tuple(
        Asked(
            movement=told[at][0],
            dose=told[at][1],
            ladder=tuple(each.name for each in plan.lines[at].movement.ladder),
            reserve=True,
        )
        for at in chosen
    )
    prompt = Prompt(
        id=prompts.prompt_id(session.id, person.id),
        session_id=session.id,
        person_id=person.id,
        told=told,
        asked=asked,
        showing=None,
        letter=f"prompt/{session.id}/{person.id}",
        opened_at=session.ends_at + timedelta(minutes=10),
    )
    await prompts.open_prompt(tx, prompt)
    if not answers:
        return
    questions = [Question(Topic.SESSION), Question(Topic.HURT)]
    questions += [Question(Topic.EFFORT, place) for place in range(2)]
    for question in questions:
        at = session.ends_at + timedelta(minutes=20)
        effort = float(np.clip(round(luck.normal(7, 1.2)), 0, 10))
        hurts = question.topic is Topic.HURT
        said = Said(word="fine", at=at) if hurts else Said(number=effort, at=at)
        await prompts.put_answer(tx, prompt, question, said, 1)


def near(dose: Dose, luck: np.random.Generator) -> Dose:
    """A dose such as somebody would be told."""
    return replace(dose, amount=max(dose.amount + float(luck.integers(-2, 3)), 3.0))


async def timed(name: str, work: Awaitable[T]) -> T:
    """Do it, and say how long it took."""
    began, spent = time.monotonic(), time.process_time()
    found = await work
    wall, cpu = time.monotonic() - began, time.process_time() - spent
    print(f"  {name:46}{wall:7.2f} s{cpu:9.2f} s CPU", flush=True)
    return found


async def main(members: int, movements: int, classes: int) -> None:
    """Fill, and measure."""
    luck, plan = np.random.default_rng(7), plan_of(movements)
    with tempfile.TemporaryDirectory() as folder:
        async with open_database(Path(folder) / "benchmark.sqlite3") as database:
            async with database.transaction() as tx:
                session = await fill(tx, plan, members, classes, luck)
            now = session.starts_at - timedelta(hours=1)
            print(f"{members} members, {movements} movements, {classes} classes")
            async with database.transaction() as tx:
                facts = await timed("read what is known", digest_facts(tx, session, now))
            await timed("work it out, after a start", asyncio.to_thread(work_out, facts))
            worked = await timed("work it out once more", asyncio.to_thread(work_out, facts))
            speech = speech_for("en")
            began = time.monotonic()
            told = messages(worked, speech)
            sizes = ", ".join(str(length(each.text)) for each in told)
            print(f"  put into words: {time.monotonic() - began:.3f} s; characters: {sizes}")
            assert worked.digest is not None
            await printed(handout_of(speech, worked, worked.digest))  # the library is loaded once
            await timed("draw the pictures", draw_overviews(worked, (speech,)))
            await timed(
                "draw the page to print", printed(handout_of(speech, worked, worked.digest))
            )
            async with database.transaction() as tx:
                await timed("the whole digest, in its transaction", send_digest(tx, session, now))


def arguments() -> argparse.Namespace:
    """What was asked for."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--members", type=int, default=40)
    parser.add_argument("--movements", type=int, default=12)
    parser.add_argument("--classes", type=int, default=104)
    return parser.parse_args()


if __name__ == "__main__":
    asked_for = arguments()
    asyncio.run(main(asked_for.members, asked_for.movements, asked_for.classes))
