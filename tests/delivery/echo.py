"""A process that answers every message, to be killed."""

import asyncio
import sys
import time
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from telegram import Update
from telegram.ext import TypeHandler

from bot.delivery.delivery import Delivery
from bot.storage import inbox, outbox
from bot.storage.database import Database, open_database
from bot.storage.outbox import Kind, Letter, Priority
from bot.tasks import Tasks
from tests.delivery.loopback import application_for

HASTE = 60


class HastyClock:
    """The computer's clock, sixty times as fast, so that ten seconds of patience are a sixth."""

    def now(self) -> datetime:
        return datetime.fromtimestamp(0, UTC) + timedelta(seconds=time.time() * HASTE)

    async def wait(self, seconds: float, unless: asyncio.Event | None = None) -> None:
        try:
            async with asyncio.timeout(seconds / HASTE):
                await (unless or asyncio.Event()).wait()
        except TimeoutError:
            return


async def answer(database: Database, update: Update, now: datetime) -> None:
    """Keep the answer and the letter in one transaction; even numbers get an alert."""
    assert update.effective_user is not None
    number = update.update_id
    letter = Letter(
        id=f"answer:{number}",
        chat=update.effective_user.id,
        method="sendMessage",
        arguments={"text": str(number)},
        priority=Priority.INTERACTIVE,
        kind=Kind.CONFIRMATION if number % 2 else Kind.ALERT,
    )
    async with database.transaction() as tx:
        await inbox.mark_done(tx, number, now)
        await outbox.queue(tx, letter, now)
        # counts how often it was handled: the name is not unique by itself
        handled = await tx.value("SELECT count(*) FROM pulse WHERE name LIKE :n", n=f"{number}:%")
        await tx.execute(
            "INSERT INTO pulse VALUES (:name, '2026-03-02T12:00:00Z')", name=f"{number}:{handled}"
        )


async def main(url: str, file: str) -> None:
    clock = HastyClock()
    application = application_for(url)
    async with open_database(Path(file), clock) as database, application:

        async def hear(update: Update, context: Any) -> None:
            await answer(database, update, clock.now())

        application.add_handler(TypeHandler(Update, hear))
        tasks = Tasks()
        Delivery(application, database, clock, poll_timeout=5).start(tasks)
        await tasks.failed


if __name__ == "__main__":
    asyncio.run(main(sys.argv[1], sys.argv[2]))
