"""A stand-in with a clock that can be pushed, and a plain HTTP caller to talk to it."""

from collections.abc import AsyncIterator
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from typing import Any

import aiohttp
import pytest

from demo_script.stand_in import Person, StandIn

NOON = datetime(2026, 3, 1, 12, 0, tzinfo=UTC)


@dataclass
class PushedClock:
    """Stands still until somebody pushes it."""

    at: datetime = NOON

    def now(self) -> datetime:
        """The moment it was left at."""
        return self.at

    def push(self, **span: float) -> None:
        """Let time pass: `push(seconds=3)`, `push(weeks=1)`."""
        self.at += timedelta(**span)


@dataclass
class Caller:
    """Asks the API over HTTP without any client library."""

    api: StandIn
    session: aiohttp.ClientSession = field(repr=False)

    async def __call__(self, method: str, **params: object) -> Any:
        """The result of a request that must be accepted."""
        body = await self.raw(method, **params)
        assert body["ok"] is True, body
        return body["result"]

    async def refused(self, method: str, **params: object) -> str:
        """Code and description of a request that must be refused."""
        body = await self.raw(method, **params)
        assert body["ok"] is False, body
        return f"{body['error_code']} {body['description']}"

    async def raw(self, method: str, **params: object) -> dict[str, Any]:
        """The whole body of any answer."""
        url = f"{self.api.url}/bot{self.api.token}/{method}"
        async with self.session.post(url, json=params) as response:
            body: dict[str, Any] = await response.json()
            assert body["ok"] or response.status == body["error_code"]
            return body

    async def texts(self, offset: int = 0, **params: object) -> list[str]:
        """The texts of the messages that wait."""
        updates = await self("getUpdates", offset=offset, **params)
        return [update["message"]["text"] for update in updates]


@pytest.fixture
def clock() -> PushedClock:
    """Noon, until pushed."""
    return PushedClock()


@pytest.fixture
async def api(clock: PushedClock) -> AsyncIterator[StandIn]:
    """An open stand-in."""
    async with StandIn(clock.now) as opened:
        yield opened


@pytest.fixture
async def call(api: StandIn) -> AsyncIterator[Caller]:
    """A caller for it."""
    async with aiohttp.ClientSession() as session:
        yield Caller(api, session)


@pytest.fixture
def ann(api: StandIn) -> Person:
    """A person who has pressed Start."""
    person = api.person("Ann")
    person.press_start()
    return person


def keyboard(*labels: str) -> dict[str, Any]:
    """One row of buttons whose data is their label."""
    return {"inline_keyboard": [[{"text": label, "callback_data": label} for label in labels]]}
