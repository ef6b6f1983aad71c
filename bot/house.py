"""The house: the one place where rooms are built and handed to each other."""

import asyncio
import contextlib
import gc
import logging
from collections.abc import AsyncGenerator, Callable
from contextlib import AsyncExitStack, asynccontextmanager
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from telegram.error import InvalidToken, TelegramError
from telegram.ext import ApplicationBuilder, ExtBot

from bot.clock import Clock, SystemClock
from bot.delivery.delivery import POLL_SECONDS, Delivery
from bot.delivery.failure import judge
from bot.delivery.handling import AnyApplication, note_failure
from bot.delivery.hooks import Hooks
from bot.delivery.transport import AiohttpRequest
from bot.errors import ChatRefusesUs, Stopped, StorageTrouble
from bot.garbage import Garbage
from bot.logs import fields
from bot.luck import new_code, same_code
from bot.place import Place
from bot.schedule.alarm import set_alarm
from bot.settings import Settings
from bot.steps import Steps
from bot.storage import people, pulse
from bot.storage.alone import open_alone
from bot.storage.before_upgrade import forget_before_upgrade
from bot.storage.database import Database, Transaction
from bot.storage.erased import erase_again
from bot.storage.floods import Allowance
from bot.storage.rests import shorten_rests
from bot.tasks import Follow, Tasks
from bot.words.console import claim_with

if TYPE_CHECKING:
    from bot.inside import Inside

LOG = logging.getLogger(__name__)

LONGEST_REST = 60.0  # seconds between tries to reach the chat API at the start


@dataclass(frozen=True, slots=True, kw_only=True)
class Pace:
    """How often things are looked at; the demo, whose clock leaps, has a pace of its own."""

    poll_seconds: int = POLL_SECONDS
    turn_every: timedelta = timedelta(seconds=15)
    outage_after: timedelta = timedelta(minutes=2)
    """Buttons live 150 seconds in the chat service: after this, taps may be lost."""
    allowance: Allowance = field(default_factory=Allowance)
    """How much one person may send."""


@dataclass(frozen=True, slots=True, kw_only=True)
class House:
    """The bot, running."""

    database: Database
    delivery: Delivery
    clock: Clock
    tasks: Tasks
    place: Place
    inside: "Inside"
    steps: Steps = field(default_factory=Steps)
    garbage: Garbage = field(default_factory=Garbage)

    async def turn(self) -> None:
        """Do now what is due now, and leave a sign of life."""
        await self._follow_clock()
        if isinstance(self.place, Path):
            forget_before_upgrade(self.place, self.clock.now())
        await self.inside.turn(self.clock.now())
        async with self.database.transaction() as tx:
            await pulse.note_beat_at_times(tx, pulse.TURN, self.clock.now(), pulse.TURN_EVERY)
        moment = asyncio.get_running_loop().time()
        self.garbage.look_through(moment, busy=self.delivery.busy)

    async def _follow_clock(self) -> None:
        now = self.clock.now()
        step = self.steps.seen(now, asyncio.get_running_loop().time())
        if step > timedelta(0):
            LOG.info("the clock has leapt, or the computer slept", extra=fields(by=step))
        if step < timedelta(0):
            LOG.warning("the clock was set back", extra=fields(by=-step))
            async with self.database.transaction() as tx:
                await shorten_rests(tx, now)

    async def until(self, stop: asyncio.Event) -> None:
        """Wait until told to stop; raises what a part of the house failed of."""
        stopped = self.tasks.start(_until_set(stop), name="stop")
        await asyncio.wait({stopped, self.tasks.failed}, return_when=asyncio.FIRST_COMPLETED)
        if self.tasks.failed.done():
            self.tasks.failed.result()


@asynccontextmanager
async def open_house(
    settings: Settings,
    *,
    clock: Clock | None = None,
    pace: Pace | None = None,
    announce: Callable[[str], object] = LOG.info,
    stop: asyncio.Event | None = None,
) -> AsyncGenerator[House]:
    """Lock and open the database, reach the chat API, and start every loop; ends them in order.

    `announce` tells the operator what nobody else may see. AlreadyRunning, DatabaseTooNew or
    ChatRefusesUs when it can't be, Stopped if `stop` was set while the chat API was out of reach.
    """
    clock, pace, stop = clock or SystemClock(), pace or Pace(), stop or asyncio.Event()
    async with AsyncExitStack() as stack:
        database = await stack.enter_async_context(open_alone(settings.database, clock))
        async with database.transaction() as tx:
            await erase_again(tx, clock.now())
        application = await stack.enter_async_context(_application(settings, clock, stop))
        is_owner_code = await _owner_code(settings, database, application.bot.username, announce)
        tasks = Tasks()
        stack.push_async_callback(tasks.end)
        furnished: asyncio.Future[Inside] = asyncio.get_running_loop().create_future()
        delivery = Delivery(
            application,
            database,
            clock,
            hooks=_hooks(pace, furnished),
            poll_timeout=pace.poll_seconds,
            allowance=pace.allowance,
        )
        # what comes in is safe while all that can answer is loaded, which takes most of a start
        delivery.open(tasks)
        follow = delivery.following.begin
        inside = await _furnish(application, database, clock, is_owner_code, follow)
        furnished.set_result(inside)
        stack.push_async_callback(inside.end)
        stack.push_async_callback(delivery.drain)
        house = House(
            database=database,
            delivery=delivery,
            clock=clock,
            tasks=tasks,
            place=settings.database,
            inside=inside,
        )
        with contextlib.suppress(StorageTrouble):  # that was told of, and the next turn does it
            await house.turn()
        delivery.start(tasks)
        # last, and aside: nobody who has tapped should wait for menus in three languages
        tasks.start(inside.set_menus(application.bot), name="menus")
        alarm = set_alarm(house.turn, pace.turn_every)
        stack.callback(alarm.shutdown, wait=False)
        yield house


@asynccontextmanager
async def _application(
    settings: Settings, clock: Clock, stop: asyncio.Event
) -> AsyncGenerator[AnyApplication]:
    """The chat library's application, once the chat API has said who we are."""
    bot = ExtBot(
        settings.token.text,
        base_url=f"{settings.api_url.rstrip('/')}/bot",
        base_file_url=f"{settings.api_url.rstrip('/')}/file/bot",
        request=AiohttpRequest(),
        get_updates_request=AiohttpRequest(connections=1),
    )
    application: AnyApplication = ApplicationBuilder().bot(bot).updater(None).build()
    try:
        await _reach(application, clock, stop)
        yield application
    finally:
        await application.shutdown()
        await bot.shutdown()  # its connections, where it never came as far as a greeting


async def _reach(application: AnyApplication, clock: Clock, stop: asyncio.Event) -> None:
    rest = 1.0
    while True:
        try:
            await application.initialize()
        except InvalidToken as refused:
            raise ChatRefusesUs("the token is not valid") from refused
        # also what a wrong address or a proxy may say, and the library can't make a bot of
        except (TelegramError, TypeError, AttributeError, KeyError, ValueError) as problem:
            kind = type(problem).__name__
            LOG.warning("the chat API is out of reach", extra=fields(error=kind, rest=rest))
            await clock.wait(max(rest, _asked_to_wait(problem)), unless=stop)
            if stop.is_set():
                raise Stopped from problem
            rest = min(2 * rest, LONGEST_REST)
        else:
            return


def _asked_to_wait(problem: Exception) -> float:
    """Seconds for which the chat API wants to be left alone."""
    wait = judge(problem).wait if isinstance(problem, TelegramError) else None
    return 0.0 if wait is None else wait.total_seconds()


async def _owner_code(
    settings: Settings, database: Database, username: str, announce: Callable[[str], object]
) -> Callable[[str], bool]:
    """What knows the code that makes an owner; without an owner, a code is announced."""
    given = settings.owner_code
    code = new_code() if given is None else given.text
    async with database.transaction() as tx:
        claimed = await people.has_owner(tx)
    if not claimed and given is None:
        announce(claim_with(username, code))
    return lambda tried: same_code(tried, code)


async def _furnish(
    application: AnyApplication,
    database: Database,
    clock: Clock,
    is_owner_code: Callable[[str], bool],
    follow: Follow,
) -> "Inside":
    load = await asyncio.to_thread(_load)
    inside = load(database, clock, application.bot.username, is_owner_code, follow)
    application.add_handlers(inside.handlers)
    application.add_error_handler(note_failure)
    return inside


@cache
def _load() -> "type[Inside]":
    """Import most of the house: the only place that does."""
    gc.disable()  # as in `bot.__main__`
    from bot.inside import Inside

    gc.freeze()
    gc.enable()
    return Inside


def _hooks(pace: Pace, furnished: "asyncio.Future[Inside]") -> Hooks:
    async def on_unreachable(tx: Transaction, chat: int, now: datetime) -> None:
        await (await furnished).lost(tx, chat, now)

    async def on_moved(tx: Transaction, old: int, new: int) -> None:
        await (await furnished).moved(tx, old, new)

    async def on_outage(tx: Transaction, since: datetime, until: datetime) -> None:
        if until - since >= pace.outage_after:
            await (await furnished).missed(tx, since, until)

    async def on_flood(tx: Transaction, account: int, language: str | None, now: datetime) -> None:
        await (await furnished).too_much(tx, account, language, now)

    return Hooks(
        on_unreachable=on_unreachable, on_moved=on_moved, on_outage=on_outage, on_flood=on_flood
    )


async def _until_set(event: asyncio.Event) -> None:
    with contextlib.suppress(asyncio.CancelledError):
        await event.wait()
