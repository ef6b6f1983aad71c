"""The house under a pushed clock and a supervisor, which starts it again whenever it ends."""

import asyncio
import io
import logging
from collections.abc import AsyncGenerator, Iterator
from contextlib import asynccontextmanager, contextmanager, suppress
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta

from bot.errors import Broken
from bot.house import House, open_house
from bot.logs import open_log
from bot.settings import Settings
from demo_script.clock import PushedClock
from demo_script.stand_in import StandIn

LOG = logging.getLogger("bot.__main__")

BREATH_SECONDS = 0.002
"""Real seconds in which everybody may work before the clock is pushed again."""
STEP_SECONDS = 0.25
TURN_SECONDS = 15.0
"""The calendar is looked at as often as in earnest; its own alarm goes by real time."""
POLL_SECONDS = 50.0
RESTART_SECONDS = 5.0
NEVER = datetime.min.replace(tzinfo=UTC)
BREATHS_OF_WORK = 8
"""So long the clock stands while the bot works, or a busy computer would look like a slow bot."""


@dataclass(slots=True, kw_only=True)
class Supervised:
    """A bot that is started anew when it ends by itself, as by any supervisor."""

    settings: Settings
    api: StandIn
    clock: PushedClock
    journal: io.StringIO = field(default_factory=io.StringIO)
    endings: list[str] = field(default_factory=list)
    """Why it ended, each time that it did."""
    house: House | None = None
    _running: asyncio.Task[None] | None = None
    _turned: datetime = NEVER
    _turning: asyncio.Lock = field(default_factory=asyncio.Lock)
    _polled: float = 0.0

    async def _serve(self) -> None:
        """What the program does, again and again."""
        while True:
            try:
                async with open_house(self.settings, clock=self.clock) as house:
                    self.house = house
                    try:
                        await house.until(asyncio.Event())
                    finally:
                        async with self._turning:
                            self.house = None
            except Broken as broken:
                self.endings.append(type(broken).__name__)
            except Exception as broken:
                LOG.exception("something broke that nobody thought of")
                self.endings.append(type(broken).__name__)
            await self.clock.wait(RESTART_SECONDS)

    def start(self) -> None:
        """Start it, and whatever comes after it."""
        self._running = asyncio.create_task(self._serve())

    async def end(self) -> None:
        """Stop it for good."""
        if self._running is not None:
            self._running.cancel()
            with suppress(asyncio.CancelledError):
                await self._running

    async def restart(self) -> None:
        """Stop it in order and start it again."""
        await self.end()
        self.start()

    async def is_open(self) -> None:
        """Wait until it works."""
        while self.house is None:
            await self.breathe()

    # --- time ------------------------------------------------------------------------------

    async def breathe(self) -> None:
        """Let everybody work for a moment, and then a quarter of a second pass."""
        for _ in range(BREATHS_OF_WORK):
            await asyncio.sleep(BREATH_SECONDS)
            if not (self.house and (self.house.delivery.busy or self.api.pending)):
                break
        self.clock.push(STEP_SECONDS)
        await self._keep_time(STEP_SECONDS)

    async def passing(self, seconds: float) -> None:
        """So much time passes."""
        until = self.clock.now() + timedelta(seconds=seconds)
        while self.clock.now() < until:
            await self.breathe()

    async def leap(self, moment: datetime) -> None:
        """The clock shows that moment at once, as after a sleep; or is set, also back."""
        self.clock.moment = moment
        self.clock.push(0)
        self._turned = NEVER
        await self._keep_time(POLL_SECONDS)

    async def _keep_time(self, seconds: float) -> None:
        """Long polls end, and the calendar is looked at, by this clock."""
        self._polled += seconds
        if self._polled >= POLL_SECONDS:
            self._polled = 0.0
            self.api.world.updates._end_poll(stays=True)
        now = self.clock.now()
        async with self._turning:
            if self.house is not None and abs(now - self._turned) >= timedelta(
                seconds=TURN_SECONDS
            ):
                self._turned = now
                await self._turn(self.house)

    async def _turn(self, house: House) -> None:
        """As the alarm does it: what goes wrong is told by the journal, and nobody else minds."""
        try:
            await house.turn()
        except Exception:
            logging.getLogger("apscheduler").exception("a turn failed")


@contextmanager
def written_to(supervised: Supervised) -> Iterator[None]:
    """The journal as the real program writes it."""
    level = logging.getLogger().level
    handler = open_log(supervised.api.token, stream=supervised.journal)
    try:
        yield
    finally:
        logging.getLogger().removeHandler(handler)
        logging.getLogger().setLevel(level)


@asynccontextmanager
async def open_supervised(
    settings: Settings, api: StandIn, clock: PushedClock
) -> AsyncGenerator[Supervised]:
    """It runs inside the block."""
    supervised = Supervised(settings=settings, api=api, clock=clock)
    with written_to(supervised):
        supervised.start()
        try:
            yield supervised
        finally:
            await supervised.end()
