"""A running delivery that letters are given to, on a clock that stands still."""

import asyncio
from collections.abc import AsyncGenerator
from contextlib import asynccontextmanager
from dataclasses import replace
from datetime import datetime
from typing import Any

from bot.delivery.delivery import Delivery
from bot.delivery.handling import AnyApplication
from bot.delivery.hooks import Hooks
from bot.storage import outbox
from bot.storage.database import Database, Transaction
from bot.storage.outbox import Kind, Letter, Priority
from bot.tasks import Tasks
from tests.fixed_clock import FixedClock

LOOPS_ON_THE_CLOCK = 2  # handling and sending; asking for updates waits in the long poll


def letter(name: str, chat: int = 1, **more: Any) -> Letter:
    plain = Letter(
        id=name,
        chat=chat,
        method="sendMessage",
        arguments={"text": name},
        priority=Priority.INTERACTIVE,
        kind=Kind.CONFIRMATION,
    )
    return replace(plain, **more)


def tap(name: str, chat: int = 1, **more: Any) -> Letter:
    """A change that may go as soon as it is committed."""
    arguments = {"text": name, "message_id": 7}
    plain: dict[str, Any] = {"method": "editMessageText", "arguments": arguments, "at_once": True}
    return letter(name, chat, **{**plain, **more})


class House:
    """A running delivery, and what its hooks were told."""

    def __init__(self, application: AnyApplication, database: Database, noon: FixedClock) -> None:
        self.told: list[tuple[object, ...]] = []
        self.database = database
        self.noon = noon
        self.tasks = Tasks()
        hooks = Hooks(on_unreachable=self._unreachable, on_moved=self._moved)
        self.delivery = Delivery(application, database, noon, hooks=hooks, poll_timeout=5)

    async def _unreachable(self, tx: Transaction, chat: int, now: datetime) -> None:
        self.told.append(("unreachable", chat))

    async def _moved(self, tx: Transaction, old: int, new: int) -> None:
        self.told.append(("moved", old, new))

    async def post(self, *letters: Letter) -> None:
        """Queue letters, and wait until whatever can go now has gone."""
        await self.queue(*letters)
        await self.settled()

    async def queue(self, *letters: Letter) -> None:
        """Queue letters in one transaction, and don't wait."""
        async with self.database.transaction() as tx:
            for one in letters:
                await outbox.queue(tx, one, self.noon.now())

    async def settled(self) -> None:
        """Wait until nothing more can go, pushing the clock when only the pacing holds it up."""
        while not await self.delivery.idle():
            if self.noon.at_rest == LOOPS_ON_THE_CLOCK and not self.delivery.busy:
                self.noon.push(1)
            await asyncio.sleep(0)

    async def states(self) -> dict[str, str]:
        async with self.database.transaction() as tx:
            rows = await tx.all("SELECT id, state FROM outbox ORDER BY sequence")
        return {row["id"]: row["state"] for row in rows}


@asynccontextmanager
async def open_house(
    application: AnyApplication, database: Database, noon: FixedClock
) -> AsyncGenerator[House]:
    """A delivery that runs, until it is drained."""
    house = House(application, database, noon)
    house.delivery.start(house.tasks)
    try:
        yield house
    finally:
        await house.delivery.drain()
        await house.tasks.end()
