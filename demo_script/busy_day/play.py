"""Plays the day: opens the theatre, lets some weeks pass, and goes through the agenda."""

import tempfile
from collections.abc import AsyncGenerator, Awaitable, Callable
from contextlib import asynccontextmanager
from datetime import UTC, datetime, timedelta
from functools import partial
from pathlib import Path
from zoneinfo import ZoneInfo

from bot.storage import sessions
from bot.storage.sessions import Session
from demo_script.busy_day import errands
from demo_script.busy_day.classes import note_class
from demo_script.busy_day.day import EVENING, MIDDAY, MORNING, Day, DayScript, Part
from demo_script.busy_day.founding import found
from demo_script.busy_day.history import live_through
from demo_script.busy_day.people import FIRST, IN_TWO_GROUPS, SECOND
from demo_script.story.incidents import ask, strangers
from demo_script.story.listening import listening
from demo_script.story.witness import Witness
from demo_script.telling import Telling
from demo_script.theatre import open_theatre

ZONE = ZoneInfo("Europe/Vienna")
OPENING = datetime(2026, 9, 21, 10, 0, tzinfo=ZONE)
TICK = timedelta(minutes=5)
"""How often the bot looks what is due; the story doesn't tell it when."""
FROM, UNTIL = "06:00", "20:30"
NEXT_MORNING = ("08:25", "10:05")

Errand = Callable[[Day], Awaitable[None]]


@asynccontextmanager
async def play_day(script: DayScript, telling: Telling) -> AsyncGenerator[Day]:
    """The whole day; inside the block the bot still runs, so that it can be looked into."""
    with tempfile.TemporaryDirectory(prefix="class-effort-demo-") as folder:
        async with open_theatre(Path(folder), OPENING.astimezone(UTC)) as theatre:
            day = Day(
                script=script,
                theatre=theatre,
                telling=telling,
                witness=Witness(theatre.api),
                first=theatre.api.person(FIRST),
                second=theatre.api.person(SECOND),
            )
            with listening(day.problems):
                await found(day)
                await live_through(day)
                await _live(day)
                yield day


async def _live(day: Day) -> None:
    """Note what is settled beforehand; the rest is noted as it comes."""
    day.telling.heading(f"{day.day:%A %-d %B}")
    day.began = day.at(FROM)
    day.looked_through = len(day.witness.sights)
    for clock, errand in ERRANDS:
        day.agenda.note(day.at(clock), partial(errand, day))
    for part in (MORNING, MIDDAY, EVENING):
        session = await _meets_today(day, part)
        if part is not EVENING:  # that one is noted once it is moved
            note_class(day, part, session)
    _note_ticks(day, day.at(FROM), day.at(UNTIL))
    _note_ticks(day, *(day.at(clock, days_later=1) for clock in NEXT_MORNING))
    await day.agenda.go_through(day.theatre.clock.push_to, partial(errands.note_looks, day))


async def _meets_today(day: Day, part: Part) -> Session:
    group = day.group(part)
    async with day.theatre.house.database.transaction() as tx:
        session = await sessions.next_session(tx, group.id, day.now)
    assert session is not None, "they meet every week"
    group.tale.ledger.sessions = {day.script.day: session.id}  # what came before was no chat
    return session


def _note_ticks(day: Day, since: datetime, until: datetime) -> None:
    moment = since
    while moment <= until:
        day.agenda.note(moment, partial(_tick, day, moment))
        moment += TICK


async def _tick(day: Day, moment: datetime) -> None:
    await day.group(MORNING).tale.leap(moment)


async def _ask(day: Day, part: Part, name: str) -> None:
    tale = day.group(part).tale
    await ask(tale, tale.actor(name))


async def _try_the_door(day: Day) -> None:
    await strangers(day.group(MORNING).tale)


ERRANDS: tuple[tuple[str, Errand], ...] = (
    ("08:26", _try_the_door),
    ("09:21", errands.take_over_demands),
    ("09:31", errands.hand_class),
    ("09:51", errands.move_class),
    ("11:46", partial(_ask, part=MIDDAY, name=IN_TWO_GROUPS)),
    ("13:26", errands.look_again),
    ("14:41", errands.export),
    ("17:11", errands.newcomer_joins),
)
