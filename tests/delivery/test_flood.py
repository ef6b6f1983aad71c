"""Whoever sends far too much is heard up to a point, told once, and stops nobody else."""

import asyncio
from collections.abc import AsyncGenerator
from datetime import datetime, timedelta

import pytest

from bot.delivery.handling import AnyApplication
from bot.delivery.hooks import Hooks
from bot.delivery.intake import Intake, private_sender
from bot.storage import inbox
from bot.storage.database import Database, Listener, Transaction
from bot.storage.floods import Allowance
from bot.storage.inbox import INBOX, Incoming
from tests.delivery.loopback import Loopback
from tests.delivery.test_intake import said
from tests.fixed_clock import FixedClock


class Told:
    """A running intake that takes little, and whom it told so."""

    def __init__(self, application: AnyApplication, database: Database, noon: FixedClock) -> None:
        self.told: list[tuple[int, str | None]] = []
        self.came: list[Incoming] = []
        database.listen(INBOX, Listener(self.came.append))
        hooks, little = Hooks(on_flood=self._tell), Allowance(most=5, window=timedelta(minutes=1))
        intake = Intake(application.bot, database, noon, hooks, 5, little)
        self.task = asyncio.create_task(intake.run(asyncio.Event()))

    async def _tell(
        self, tx: Transaction, account: int, language: str | None, now: datetime
    ) -> None:
        self.told.append((account, language))


@pytest.fixture
async def told(
    application: AnyApplication, database: Database, noon: FixedClock
) -> AsyncGenerator[Told]:
    running = Told(application, database, noon)
    yield running
    running.task.cancel()
    await asyncio.gather(running.task, return_exceptions=True)


async def test_the_rest_is_acknowledged_unread_and_others_are_heard(
    api: Loopback, told: Told, database: Database
) -> None:
    api.happens(*(said(number, person=1) for number in range(1, 31)), said(31, person=2))
    calls = await api.until("getUpdates", 2)
    assert calls[1]["offset"] == 32
    async with database.transaction() as tx:
        waiting = await inbox.waiting(tx)
    assert [each.update_id for each in waiting] == [1, 2, 3, 4, 5, 31]
    assert told.came == list(waiting)
    assert told.told == [(1, None)]


def test_only_who_is_in_a_chat_of_their_own_with_us_is_told() -> None:
    ana = {"id": 5, "language_code": "de"}
    own, other = {"id": 5, "type": "private"}, {"id": -7, "type": "group"}
    message, press = {"from": ana, "chat": own}, {"from": ana, "message": {"chat": own}}
    assert private_sender({"update_id": 1, "message": message}) == (5, "de")
    assert private_sender({"update_id": 1, "callback_query": press}) == (5, "de")
    for elsewhere in (
        {"message": {"from": ana, "chat": other}},
        {"callback_query": {"from": ana, "message": {"chat": other}}},
        {"callback_query": {"from": ana}},
        {"message": {"from": {"id": "5"}, "chat": own}},
        {"message": "what?"},
        None,
    ):
        assert private_sender(elsewhere) is None
