"""What a campaign stands on: groups whose classes end one after the other, in real time."""

import asyncio
import random
from collections.abc import AsyncGenerator
from contextlib import asynccontextmanager
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from bot.house import open_house
from bot.place import Place, Server
from bot.settings import Secret, Settings
from demo_script.stand_in import Person, StandIn
from demo_script.stand_in.limits import Limits
from demo_script.stand_in.server import Validator
from demo_script.theatre import DEMO_PACE, OWNER_CODE, Theatre
from tests.campaigns.process import Run, TwoClocks
from tests.campaigns.room import Room
from tests.journeys.evening import Evening
from tests.journeys.plans import plan_text
from tests.looking import rows

CLASS_MINUTES = 5
AS_IT_ENDS = 24 * 60 - CLASS_MINUTES
"""Minutes before a daily class at which the one before it ends: its digest is due then."""
PATIENCE_SECONDS = 40.0
A_FEW = 8
BREATHS = 1000
"""On a busy computer the story's clock must not run away while all is set up: classes begin."""
WIDE = Limits(private_burst=1000, private_per_second=1000, messages_per_second=1000)
"""Pacing is another test's matter: two runs within a second don't know of each other's letters."""

WAITING = """SELECT (SELECT count(*) FROM inbox WHERE done_at IS NULL AND parked_at IS NULL)
+ (SELECT count(*) FROM outbox WHERE state IN ('queued', 'sending'))"""

Seconds = tuple[float, float]
"""The least and the most of something that takes a random while."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """A stand-in of the chat service, groups in a database, and no process yet."""

    api: StandIn
    place: Place
    run: Run
    instructor: Person
    groups: list[list[Person]]
    """The members of each group."""
    digests: list[str]
    """How the digest begins that falls due at the end of each group's class."""

    @property
    def members(self) -> list[Person]:
        """Everyone."""
        return [person for group in self.groups for person in group]

    async def start(self) -> None:
        """Start a process, and wait until it works."""
        await self.run.start()
        await until_it_works(self.api)

    async def live_and_be_killed(
        self, room: Room, luck: random.Random, number: int, *, starting: Seconds, working: Seconds
    ) -> None:
        """One run, while it handles what members say; each third one while it starts."""
        if number % 3 == 2:
            await self.run.start()
            await asyncio.sleep(luck.uniform(*starting))
        else:
            await self.start()
            with room.answering():
                await self.something_is_taken_up(room)
                await asyncio.sleep(luck.uniform(*working))
        await self.run.kill()

    async def something_is_taken_up(self, room: Room) -> None:
        """Wait until members have said a few more things and the bot has begun to handle them.

        However busy the computer is: a process that only ever stores what comes in proves little.
        """
        enough, place = room.times + A_FEW, len(self.api.requests)

        def is_taken_up() -> bool:
            new = (request.method for request in self.api.requests[place:])
            return room.times >= enough and "answerCallbackQuery" in new

        await self.api.until(is_taken_up, PATIENCE_SECONDS)

    async def until_quiet(self, patience_seconds: float = PATIENCE_SECONDS) -> None:
        """Wait until everything that came in is handled, and everything is sent."""

        def quiet() -> bool:
            return self.api.pending == 0 and rows(self.place, WAITING) == [(0,)]

        await self.api.until(quiet, patience_seconds)


@asynccontextmanager
async def open_ground(
    folder: Path,
    *,
    members: int,
    groups: int = 1,
    apart: timedelta = timedelta(0),
    before: timedelta = timedelta(minutes=20),
    validator: Validator | None = None,
    server: Server | None = None,
) -> AsyncGenerator[Ground]:
    """Set all up so long before now; inside the block it is now.

    The first group's class ends nine minutes after the setting up, each next group's so much later.
    As it ends, its members are to be asked, and the digest of the next day's class is due.
    """
    clocks = TwoClocks(datetime.now(UTC) - before)
    async with StandIn(clocks.now, validator=validator, limits=WIDE) as api:
        settings = Settings(
            token=Secret(api.token),
            api_url=api.url,
            database=server or folder / "class-effort.sqlite3",
            owner_code=Secret(OWNER_CODE),
        )
        instructor = api.person("Ines")
        async with open_house(settings, clock=clocks.story, pace=DEMO_PACE) as house:
            evening = Evening(
                theatre=Theatre(api=api, house=house, clock=clocks.story, patience=BREATHS),
                file=folder,
                server=server,
                instructor=instructor,
            )
            joined, digests = await _found(evening, members, groups, apart)
        clocks.real = True
        async with Run(settings, folder / "journal") as run:
            yield Ground(
                api=api,
                place=settings.database,
                run=run,
                instructor=instructor,
                groups=joined,
                digests=digests,
            )


async def _found(
    evening: Evening, members: int, groups: int, apart: timedelta
) -> tuple[list[list[Person]], list[str]]:
    """The groups' members and digests; their zone is chosen so that it's day there, always."""
    offset = 12 - datetime.now(UTC).hour
    zone = f"Etc/GMT{-offset:+d}" if offset else "Etc/GMT"
    first = (evening.now + timedelta(hours=offset, minutes=4)).replace(microsecond=0, tzinfo=None)
    await evening.claim()
    joined, digests = [], []
    for number in range(groups):
        starts = first + number * apart
        plan = plan_text(
            f"Class {number}",
            starts=starts.isoformat(),
            rrule="FREQ=DAILY",
            timezone=zone,
            minutes=CLASS_MINUTES,
            more=f"prompt_after = 0\ndigest_before = {AS_IT_ENDS}",
        )
        await evening.upload(plan)
        joined.append(await evening.join(*(f"Member {number}.{each}" for each in range(members))))
        digests.append(f"<b>Class {number}</b> · {starts + timedelta(days=1):%a}")
    return joined, digests


async def until_it_works(api: StandIn) -> None:
    """Wait until a new process has said hello and waits for updates, or takes some."""
    place = len(api.requests)

    def works() -> bool:
        new = [request.method for request in api.requests[place:]]
        return "getUpdates" in new or (bool(new) and api.world.updates.has_poller)

    await api.until(works, PATIENCE_SECONDS)
