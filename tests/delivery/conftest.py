"""A Bot API on loopback, and an application that talks to it."""

from collections.abc import AsyncGenerator

import pytest

from bot.delivery.handling import AnyApplication
from tests.delivery.loopback import Loopback, application_for, serving


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
