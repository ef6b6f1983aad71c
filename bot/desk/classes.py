"""Single classes cancelled, moved and added, with everyone who expects something."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import Enum, auto

from bot.desk import calendar, prompts, shared_questions
from bot.desk.calendar import plan_of
from bot.desk.letters import Errand, change
from bot.desk.prompts import Screen
from bot.desk.timetables import SLOT
from bot.desk.voice import speech_to
from bot.storage import groups, rescheduling, sessions
from bot.storage import prompts as stored
from bot.storage.database import Transaction
from bot.storage.dues import forget_open_dues
from bot.storage.groups import Group
from bot.storage.members import members
from bot.storage.outbox import withdraw
from bot.storage.people import Person
from bot.storage.prompts import Prompt
from bot.storage.sessions import Session
from bot.timetable import local
from bot.words.class_news import did_not_take_place
from core.questions import next_question

FARTHEST = timedelta(days=366)
"""How far ahead a class may be put by hand; farther is a slip of the finger."""


class Hindrance(Enum):
    """Why a class can't be at some time."""

    PAST = auto()
    FAR = auto()
    TAKEN = auto()


@dataclass(frozen=True, slots=True, kw_only=True)
class Hindered:
    """Why a class can't be at some time, and which class is in its way, if one is."""

    why: Hindrance
    by: Session | None = None


async def hindrance(
    tx: Transaction,
    group_id: str,
    starts_at: datetime,
    length: timedelta,
    now: datetime,
    *,
    besides: str = "",
) -> Hindered | None:
    """Why a class of the group, that one perhaps, can't be then; None if it can."""
    if starts_at <= now:
        return Hindered(why=Hindrance.PAST)
    if starts_at > now + FARTHEST:
        return Hindered(why=Hindrance.FAR)
    other = await rescheduling.at_that_time(
        tx, group_id, starts_at, starts_at + length, besides=besides
    )
    return None if other is None else Hindered(why=Hindrance.TAKEN, by=other)


async def add(
    tx: Transaction, group: Group, starts_at: datetime, reason: int, now: datetime
) -> Session:
    """A class that no timetable plans; the caller knows that nothing is in its way."""
    plan = await plan_of(tx, group.plan_id)
    wall = local(starts_at, plan.timezone)
    slot = f"+{wall.strftime(SLOT)}/{reason}"
    made = Session(
        id=sessions.session_id(group.id, slot),
        group_id=group.id,
        plan_id=group.plan_id,
        slot=slot,
        starts_at=starts_at,
        ends_at=starts_at + timedelta(minutes=plan.minutes),
        local_day=wall.date(),
        cancelled=False,
        moved=False,
        by_hand=True,
    )
    made = await rescheduling.make_session(tx, made, now)
    await calendar.renew_dues(tx, group.id, now)
    return made


async def cancel(tx: Transaction, session: Session, reason: str, now: datetime) -> bool:
    """A class doesn't take place, or didn't: nothing more is asked about it, and nobody missed it.

    False if it was cancelled before.
    """
    if not await rescheduling.cancel_session(tx, session.id, now):
        return False
    for person, prompt in await _asked(tx, session):
        await _close(tx, session, person, prompt, reason, now)
    await shared_questions.call_off(tx, session, reason, now)
    await calendar.renew_dues(tx, session.group_id, now)
    return True


async def restore(tx: Transaction, session: Session, reason: str, now: datetime) -> bool:
    """A cancelled class takes place, or did, after all; false if it wasn't cancelled."""
    if not await rescheduling.restore_session(tx, session.id):
        return False
    await forget_open_dues(tx, session.id)
    await calendar.renew_dues(tx, session.group_id, now)
    for person, prompt in await _asked(tx, session):
        opened = await prompts.look_up(tx, prompt, person)
        question = next_question(prompt.asked, opened.answers)
        await prompts.show(tx, opened, question, Screen(reason=f"on/{reason}"), now)
    await shared_questions.call_on(tx, session, reason, now)
    return True


async def _asked(tx: Transaction, session: Session) -> list[tuple[Person, Prompt]]:
    """Members who were asked about a class."""
    people = {each.id: each for each in await members(tx, session.group_id)}
    asked = await stored.prompts_of_session(tx, session.id)
    return [(people[each.person_id], each) for each in asked if each.person_id in people]


async def _close(
    tx: Transaction, session: Session, person: Person, prompt: Prompt, reason: str, now: datetime
) -> None:
    """Say that there is nothing to answer, where the question stands; not to whom it never came."""
    await stored.show(tx, prompt, None)
    if await withdraw(tx, prompt.letter, now):
        return
    group = await groups.group(tx, session.group_id)
    message = did_not_take_place(speech_to(person), group.name, session.local_day)
    errand = Errand(id=f"screen/{prompt.id}/off/{reason}")
    await change(tx, person.account, message, errand, now, letter=prompt.letter)
