"""A Bot API on loopback, an application that talks to it, and a delivery that runs."""

from collections.abc import AsyncGenerator

import pytest

from bot.delivery.handling import AnyApplication
from bot.storage.database import Database
from tests.delivery.loopback import Loopback, application_for, serving
from tests.delivery.sending import House, open_house
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
    async with open_house(application, database, noon) as running:
        yield running
