"""The theatre: the real bot and the stand-in of the chat API, under one clock."""

import asyncio
from collections.abc import AsyncGenerator, Callable
from contextlib import AsyncExitStack, asynccontextmanager
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

from bot.house import House, Pace, open_house
from bot.pictures.render import drawing
from bot.place import Server
from bot.settings import Secret, Settings
from bot.storage.floods import Allowance
from demo_script.clock import PushedClock
from demo_script.stand_in import StandIn
from demo_script.stand_in.server import Validator

OWNER_CODE = "the-demo-owner-code"
BREATH = 0.002  # real seconds in which the bot may work before its clock is pushed again
STEP = 0.25  # seconds of the clock for each breath: less than any pace that the bot keeps
PATIENCE = 50  # breaths of work in one go, after which it may be the clock that it waits for
LONGEST = 60.0  # real seconds in which everything must have settled

DEMO_PACE = Pace(
    poll_seconds=20,
    turn_every=timedelta(hours=1),  # the story calls the turn itself whenever the clock leaps
    outage_after=timedelta.max,  # a leap of the clock is no outage
    allowance=Allowance(most=10**9),  # the clock stands still while people act
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Theatre:
    """Everything that is on stage."""

    api: StandIn
    house: House
    clock: PushedClock
    patience: int = PATIENCE

    async def settle(self) -> None:
        """Let the bot handle and send whatever there is, moving the clock only as it must."""
        breaths = 0
        async with asyncio.timeout(LONGEST):
            while True:
                await asyncio.sleep(BREATH)
                working = self.api.pending > 0 or self.house.delivery.busy
                if not working and await self.house.delivery.idle():
                    return
                if drawing():
                    continue  # by another process, which knows nothing of this clock
                breaths = breaths + 1 if working else 0
                if not working or breaths > self.patience:
                    self.clock.push(STEP)

    async def leap(self, moment: datetime) -> None:
        """Let the clock leap, and the bot do what has fallen due."""
        self.clock.push_to(moment)
        await self.house.turn()
        await self.settle()


@asynccontextmanager
async def open_theatre(
    folder: Path,
    start: datetime,
    *,
    validator: Validator | None = None,
    announce: Callable[[str], object] = lambda _: None,
    pace: Pace = DEMO_PACE,
    server: Server | None = None,
) -> AsyncGenerator[Theatre]:
    """The real bot on a new database in that folder, talking to a stand-in on 127.0.0.1.

    With a server, its database is there instead.
    """
    clock = PushedClock(start)
    async with AsyncExitStack() as stack:
        api = await stack.enter_async_context(StandIn(clock.now, validator=validator))
        settings = Settings(
            token=Secret(api.token),
            api_url=api.url,
            database=server or folder / "class-effort.sqlite3",
            owner_code=Secret(OWNER_CODE),
        )
        house = await stack.enter_async_context(
            open_house(settings, clock=clock, pace=pace, announce=announce)
        )
        yield Theatre(api=api, house=house, clock=clock)
