"""A calendar file becomes a group's timetable: what it would change, and letting it."""

import asyncio
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from bot.desk import calendar as desk
from bot.desk.calendar import plan_of
from bot.desk.letters import Errand, say
from bot.desk.matching import Changes
from bot.desk.timetables import changes_of, home_of, times_of
from bot.desk.voice import speech_to
from bot.planfile import PlanFile
from bot.storage import calendars, groups
from bot.storage.database import Transaction
from bot.storage.groups import Group
from bot.storage.outbox import Kind
from bot.storage.people import Person
from bot.timetable.calendarfile import (
    BadCalendar,
    Calendar,
    problem_with,
    read_calendar,
    write_calendar,
)
from bot.words.speech import Speech
from bot.words.timetable_file import told_of_timetable


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """What a calendar would change about a group's classes."""

    plan: PlanFile
    changes: Changes
    is_empty: bool
    """Whether the calendar has no class in the weeks that are planned ahead."""
    is_known: bool
    """Whether the group follows exactly this calendar already."""


async def compare(
    tx: Transaction, group: Group, calendar: Calendar, now: datetime
) -> Comparison | BadCalendar:
    """What this calendar would change, or why it can't be the group's."""
    plan = await plan_of(tx, group.plan_id)
    # an unusual calendar takes a second: those who don't need the database go on
    problem = await asyncio.to_thread(problem_with, calendar, home_of(plan), now)
    if problem is not None:
        return problem
    changes = await changes_of(tx, group, plan, now, calendar)
    assert changes is not None, "it was just worked out"
    in_force = await calendars.calendar_document(tx, group.id, times_of(plan))
    return Comparison(
        plan=plan,
        changes=changes,
        is_empty=changes.plans_nothing,
        is_known=in_force == write_calendar(calendar) and changes.is_nothing,
    )


async def follow(
    tx: Transaction,
    group: Group,
    calendar: Calendar,
    compared: Comparison,
    by: Person,
    reason: str,
    now: datetime,
) -> None:
    """Let the group's classes follow this calendar, and tell whoever else leads it."""
    document = write_calendar(calendar)
    await calendars.put_calendar(tx, group.id, document, times_of(compared.plan), now)
    await desk.plan_ahead(tx, group, now)
    for leader in await groups.leaders(tx, group.id):
        if leader.id == by.id:
            continue
        speech = speech_to(leader)
        said = Told.of(speech, compared)
        message = told_of_timetable(
            speech, by.name, group.name, new=said.new, moved=said.moved, gone=said.gone
        )
        errand = Errand(id=f"timetable/{group.id}/{leader.id}/{reason}", kind=Kind.ALERT)
        await say(tx, leader.account, message, errand, now)


async def chosen_before(tx: Transaction, group: Group) -> tuple[str, ...]:
    """What the events were called that became this group's classes the last time."""
    document = await calendars.latest_document(tx, group.id)
    return () if document is None else read_calendar(document).titles


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """Changes as moments in words, in one person's language."""

    new: tuple[str, ...]
    moved: tuple[tuple[str, str], ...]
    gone: tuple[str, ...]
    kept: tuple[str, ...]

    @classmethod
    def of(cls, speech: Speech, compared: Comparison) -> "Told":
        """What this comparison says."""
        changes, zone = compared.changes, compared.plan.timezone

        def moments(found: Iterable[datetime]) -> tuple[str, ...]:
            return tuple(speech.moment(each, zone) for each in sorted(found))

        differing = [
            old
            for old, new in changes.by_hand
            if old.cancelled or (old.starts_at, old.ends_at) != (new.starts_at, new.ends_at)
        ]
        return cls(
            new=moments(each.starts_at for each in (*changes.new, *changes.back)),
            moved=tuple(
                (speech.moment(old.starts_at, zone), speech.moment(new.starts_at, zone))
                for old, new in changes.moved
            ),
            gone=moments(each.starts_at for each in changes.gone),
            kept=moments(each.starts_at for each in differing),
        )
