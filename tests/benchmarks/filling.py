"""Fills a database through the bot's storage: a group, its classes, and what was answered."""

from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta

import numpy as np

from bot.planfile import PlanFile, write_plan_file
from bot.storage import groups, people, prompts, sessions
from bot.storage.database import Transaction
from bot.storage.groups import Group
from bot.storage.people import Person
from bot.storage.prompts import Prompt
from bot.storage.sessions import Session
from core.movement import Dose
from core.plan import Plan
from core.questions import Asked, Question, Said, Topic
from tests.simulation.plans import mixed

FIRST = datetime(2026, 1, 8, 18, 30, tzinfo=UTC)
WEEK = timedelta(weeks=1)
ANSWERS = 0.75
"""Share of the members who answer about a class."""


@dataclass(frozen=True, slots=True, kw_only=True)
class History:
    """What a group looks back on."""

    leader: int
    """Account of its instructor."""
    members: tuple[int, ...]
    """Accounts."""
    classes: int
    first: datetime = FIRST
    apart: timedelta = WEEK
    reserve: bool = False
    """Whether what was left was asked too, and answered."""

    def starts(self, number: int) -> datetime:
        """When the class of that number began, counted from 0; the next one is `classes`."""
        return self.first + number * self.apart


def plan_of(
    movements: int, first: datetime = FIRST, *, name: str = "Harbour Hall strength", rule: str = ""
) -> PlanFile:
    """Twelve movements are six, twice, under other names."""
    lines = []
    for at in range(movements):
        line = mixed().lines[at % 6]
        called = f"{line.movement.name} {at // 6 + 1}"
        lines.append(replace(line, movement=replace(line.movement, name=called)))
    return PlanFile(
        name=name,
        timezone="UTC",
        starts=first.replace(tzinfo=None),
        rrule=rule or "FREQ=WEEKLY;BYDAY=TH",
        minutes=50,
        prompt_after=10,
        digest_before=60,
        plan=Plan(lines=tuple(lines), minutes=50, target=7.0, ceiling=9.0),
    )


async def fill(
    tx: Transaction, plan: PlanFile, history: History, luck: np.random.Generator
) -> Group:
    """A group with its whole history."""
    before = history.first - WEEK
    leader = await people.remember(tx, history.leader, "Ines", "en", before)
    group = await groups.make_group(
        tx, leader, plan.name, write_plan_file(plan), "benchmark", before
    )
    joined = [
        await _join(tx, group, account, before + timedelta(seconds=number))
        for number, account in enumerate(history.members)
    ]
    for number in range(history.classes):
        session = await held(tx, group, history.starts(number))
        for person in joined:
            answers = bool(luck.random() < ANSWERS)
            asked = await _ask(tx, plan.plan, session, person, luck)
            if answers:
                await _answer(tx, session, asked, luck, reserve=history.reserve)
    return group


async def _join(tx: Transaction, group: Group, account: int, at: datetime) -> Person:
    person = await people.remember(tx, account, f"Member {account} Berg", "en", at)
    await tx.execute(
        "INSERT INTO membership (group_id, person_id, agreed_at) VALUES (:group, :person, :at)",
        group=group.id,
        person=person.id,
        at=f"{at:%Y-%m-%dT%H:%M:%SZ}",
    )
    return person


async def held(tx: Transaction, group: Group, starts: datetime) -> Session:
    """A class that begins then, without anything that falls due."""
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


async def _ask(
    tx: Transaction, plan: Plan, session: Session, person: Person, luck: np.random.Generator
) -> Prompt:
    """What one member was told, and asked about two movements of it."""
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
    return prompt


async def _answer(
    tx: Transaction, session: Session, prompt: Prompt, luck: np.random.Generator, *, reserve: bool
) -> None:
    topics = (Topic.EFFORT, Topic.RESERVE) if reserve else (Topic.EFFORT,)
    questions = [Question(Topic.SESSION), Question(Topic.HURT)]
    questions += [Question(topic, place) for place in range(2) for topic in topics]
    for question in questions:
        at = session.ends_at + timedelta(minutes=20)
        number = float(np.clip(round(luck.normal(7, 1.2)), 0, 10))
        hurts = question.topic is Topic.HURT
        said = Said(word="fine", at=at) if hurts else Said(number=number, at=at)
        await prompts.put_answer(tx, prompt, question, said, 1)


def near(dose: Dose, luck: np.random.Generator) -> Dose:
    """A dose such as somebody would be told."""
    return replace(dose, amount=max(dose.amount + float(luck.integers(-2, 3)), 3.0))
