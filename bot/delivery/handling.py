"""Hands stored updates to the handlers: one at a time for each person, until marked done."""

import asyncio
import json
import logging
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from telegram import Update
from telegram.ext import Application, CallbackContext

from bot.clock import Clock
from bot.delivery.shape import is_sound
from bot.errors import StorageTrouble
from bot.logs import fields
from bot.storage import inbox
from bot.storage.database import Database, Listener
from bot.storage.inbox import DONE, INBOX, Incoming
from bot.storage.outbox import SETTLED
from bot.tasks import Tasks

LOG = logging.getLogger(__name__)

MOST_AT_ONCE = 16
MOST_TRIES = 3
HANDLING_SECONDS = 60.0  # a handler that hangs must not keep its person waiting for ever
LONGEST_REST = timedelta(seconds=15)
REST_AFTER_TROUBLE = timedelta(seconds=5)

AnyApplication = Application[Any, Any, Any, Any, Any, Any]


@dataclass(frozen=True, slots=True)
class _Running:
    """An update that is being handled."""

    update_id: int
    task: asyncio.Task[None]


class Handling:
    """Each turn asks the database whose turn it is. What an earlier run left comes first.

    Unless it needn't be asked: where nothing waited but what runs, all that waits now is what has
    come in since, of which we hear.
    """

    def __init__(self, application: AnyApplication, database: Database, clock: Clock) -> None:
        self._application = application
        self._database = database
        self._clock = clock
        self._running: dict[str, _Running] = {}
        """By whom the update is from."""
        self._fresh: list[Incoming] = []
        """What has come in since the last turn."""
        self._all_run = False
        """Whether nothing waits but what runs and what is fresh."""
        self._told: set[int] = set()
        """What is done of that which runs, as we have heard."""
        self._woken = database.woken(INBOX)
        database.listen(INBOX, Listener(self._fresh.append))
        database.listen(DONE, Listener(self._told.add))
        self._stop = asyncio.Event()

    @property
    def busy(self) -> bool:
        """Whether a handler is running, if only to answer the press of a button."""
        return bool(self._running)

    async def run(self, stop: asyncio.Event, tasks: Tasks) -> None:
        """Handle until told to stop (and woken), then let running handlers finish."""
        self._stop = stop
        while not stop.is_set():
            self._woken.clear()
            try:
                rest = await self._turn(tasks)
            except Exception:
                LOG.exception("a turn of the inbox failed")
                rest = REST_AFTER_TROUBLE
            await self._clock.wait(rest.total_seconds(), unless=self._woken)
        tasks_left = [each.task for each in self._running.values()]
        await asyncio.gather(*tasks_left, return_exceptions=True)

    async def _turn(self, tasks: Tasks) -> timedelta:
        """Start the first waiting update of whoever has none running."""
        if self._all_run and self._fresh:
            updates, moment = tuple(self._fresh), None
            self._fresh.clear()
        else:
            updates, moment = await self._ask()
        for update in updates:
            if update.person_key not in self._running and len(self._running) < MOST_AT_ONCE:
                task = tasks.start(self._handle(update), name=f"update {update.update_id}")
                self._running[update.person_key] = _Running(update.update_id, task)
        running = {each.update_id for each in self._running.values()}
        self._all_run = moment is None and all(
            each.update_id in running and not each.behind for each in updates
        )
        return LONGEST_REST if moment is None else min(LONGEST_REST, moment - self._clock.now())

    async def _ask(self) -> tuple[tuple[Incoming, ...], datetime | None]:
        """Everybody's first waiting update, and when the first of those that rest may be tried."""
        now, self._all_run = self._clock.now(), False
        async with self._database.transaction(lasting=False) as tx:
            self._fresh.clear()  # whatever we have heard of was stored before this began
            # those whose update is running are among the first: leave room for as many others
            updates = await inbox.heads(tx, now, limit=2 * MOST_AT_ONCE)
            return updates, await inbox.next_retry(tx, now)

    async def _handle(self, update: Incoming) -> None:
        try:
            problem = await self._process(update)
            if update.update_id not in self._told:
                await self._look_after(update, problem)
        except StorageTrouble:
            # keeps its place and isn't counted: it is not the update's fault
            await self._clock.wait(REST_AFTER_TROUBLE.total_seconds(), unless=self._stop)
        finally:
            del self._running[update.person_key]
            if update.update_id not in self._told:
                self._all_run = False
            self._told.discard(update.update_id)
            # after giving up the place, so that the next turn sees it free
            if not self._all_run:
                self._woken.set()
            self._database.woken(SETTLED).set()

    async def _process(self, update: Incoming) -> str | None:
        """Run the handlers; returns a problem that no further try would solve."""
        document = json.loads(update.document)
        if not is_sound(document):
            return "unreadable: not of the documented shape"
        try:
            parsed = Update.de_json(document, self._application.bot)
        except Exception as error:  # noqa: BLE001 - any shape may come; its text may hold contents
            return f"unreadable: {type(error).__name__}"
        try:
            async with asyncio.timeout(HANDLING_SECONDS):
                await self._application.process_update(parsed)
        except Exception:
            LOG.exception("handling an update failed", extra=fields(update=update.update_id))
        return None

    async def _look_after(self, update: Incoming, problem: str | None) -> None:
        """A handler that failed raises nothing here: only the missing mark shows it."""
        now, number = self._clock.now(), update.update_id
        async with self._database.transaction() as tx:
            if problem is None and (
                await inbox.is_done(tx, number) or await inbox.is_resting(tx, number, now)
            ):
                return
            if problem is None and update.tries + 1 < MOST_TRIES:
                await inbox.count_try(tx, number, now, timedelta(seconds=2 * 4**update.tries))
                return
            problem = problem or f"not done after {MOST_TRIES} tries"
            await inbox.park(tx, number, problem, now)
        LOG.error("an update is parked", extra=fields(update=number, problem=problem))


async def note_failure(update: object, context: CallbackContext[Any, Any, Any, Any]) -> None:
    """What an application does when a handler fails: the log gets where, and not what was said."""
    number = update.update_id if isinstance(update, Update) else None
    LOG.error("a handler failed", exc_info=context.error, extra=fields(update=number))
