"""Everybody is asked about a class that is over, a few at a time, and only once."""

from datetime import datetime

from bot.desk.advice import Ready, work_out
from bot.desk.own_times import ask_at
from bot.desk.preparing import prepare
from bot.desk.prompts import asking_of, look_up, post
from bot.storage import prompts
from bot.storage.asked import reached_about
from bot.storage.askings import put_asking
from bot.storage.attendance import absent_from
from bot.storage.database import Transaction
from bot.storage.dues import Occasion
from bot.storage.members import members, members_before
from bot.storage.pauses import paused_members
from bot.storage.people import Person
from bot.storage.sessions import Session

A_FEW = 2
"""Members asked in one transaction: whoever taps meanwhile waits until it's over."""


async def open_prompts(
    tx: Transaction,
    session: Session,
    people: tuple[Person, ...],
    now: datetime,
    not_after: datetime,
    ready: Ready,
) -> None:
    """Ask these about a class that is over, each only once."""
    left = await _left(tx, session, now)
    for person in people:
        if person.id in left:  # not so if something has happened since
            await _open(tx, session, person, ready, now, not_after)


async def open_all(tx: Transaction, session: Session, now: datetime, not_after: datetime) -> None:
    """The same for all who are left, while everybody else waits."""
    people = await not_asked(tx, session, now)
    if people:
        ready = await work_out(tx, session)
        await open_prompts(tx, session, people, now, not_after, ready)


async def not_asked(tx: Transaction, session: Session, now: datetime) -> tuple[Person, ...]:
    """Who has still to be asked, now or at a time of their own."""
    left = await _left(tx, session, now)
    return tuple(each for each in await members(tx, session.group_id) if each.id in left)


async def _open(
    tx: Transaction,
    session: Session,
    person: Person,
    ready: Ready,
    now: datetime,
    not_after: datetime,
) -> None:
    at = ask_at(person.preferences, session, ready.plan.timezone, now)
    if now < at < not_after:
        await put_asking(tx, asking_of(Occasion.PROMPT, session, person, at, not_after))
        return
    prompt = await prepare(tx, session, ready.plan.plan, ready.advice, person, now)
    if await prompts.open_prompt(tx, prompt):
        opened = await look_up(tx, prompt, person)
        await post(tx, opened, prompt.letter, None, now, not_after)


async def _left(tx: Transaction, session: Session, now: datetime) -> frozenset[str]:
    """Their ids: those who had joined when the class began, and weren't away."""
    could_come = await members_before(tx, session.group_id, session.starts_at)
    away = await paused_members(tx, session.group_id, now) | await absent_from(tx, session.id)
    return could_come - away - await reached_about(tx, session.id)
