"""A Bot API on loopback, and an application that talks to it."""

from collections.abc import AsyncGenerator

import pytest

from bot.delivery.handling import AnyApplication
from bot.storage.database import Database
from tests.delivery.loopback import Loopback, application_for, serving
from tests.delivery.sending import House
from tests.fixed_clock import FixedClock


@pytest.fixture
async def api() -> AsyncGenerator[Loopback]:
    """The other side."""
    async with serving() as loopback:
        yield loopback


@pytest.fixture
async def application(api: Loopback) -> AsyncGenerator[AnyApplication]:
    """This side, initialized and without handlers."""
    async with application_for(api.url) as application:
        yield application


@pytest.fixture
async def house(
    application: AnyApplication, database: Database, noon: FixedClock
) -> AsyncGenerator[House]:
    """A delivery that runs, until it is drained."""
    running = House(application, database, noon)
    running.delivery.start(running.tasks)
    yield running
    await running.delivery.drain()
    await running.tasks.end()
