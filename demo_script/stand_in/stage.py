"""The stand-in as a whole: open it, let people act, and look at what the bot did."""

import asyncio
from collections.abc import AsyncGenerator, Callable, Iterable
from contextlib import asynccontextmanager
from datetime import UTC, datetime
from types import TracebackType
from typing import Self

from aiohttp import web

from demo_script.stand_in.faults import Fault
from demo_script.stand_in.groups import Group
from demo_script.stand_in.limits import Limits
from demo_script.stand_in.log import Event
from demo_script.stand_in.methods.commands import menu
from demo_script.stand_in.people import Person
from demo_script.stand_in.requests import Request
from demo_script.stand_in.server import Server, Validator, Wait
from demo_script.stand_in.values import Json
from demo_script.stand_in.world import World

TOKEN = "5000000001:stand-in-token-that-opens-nothing"
USERNAME = "class_effort_demo_bot"


def real_time() -> datetime:
    """The computer's own time, for whoever brings no clock."""
    return datetime.now(UTC)


class StandIn:
    """The Bot API on 127.0.0.1. Limits and expiries go by `now`; only long polls by real time."""

    def __init__(
        self,
        now: Callable[[], datetime] = real_time,
        *,
        token: str = TOKEN,
        username: str = USERNAME,
        wait: Wait = asyncio.sleep,
        limits: Limits | None = None,
        validator: Validator | None = None,
        port: int = 0,
    ) -> None:
        self.token = token
        self.username = username
        self.limits = limits or Limits()
        self.world = World(now, int(token.partition(":")[0]), username, self.limits)
        self._server = Server(self.world, token, wait, validator)
        self._port = port
        # A caller that hangs up ends its request: a poller that was killed meets no 409 later.
        self._runner = web.AppRunner(
            self._server.app, access_log=None, handler_cancellation=True, shutdown_timeout=1.0
        )
        self._site: web.TCPSite | None = None

    async def __aenter__(self) -> Self:
        await self._runner.setup()
        await self._listen()
        return self

    async def __aexit__(
        self,
        kind: type[BaseException] | None,
        problem: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.world.updates.close()
        await self._runner.cleanup()

    async def _listen(self) -> None:
        self._site = web.TCPSite(self._runner, "127.0.0.1", self._port)
        await self._site.start()
        self._port = self._runner.addresses[0][1]

    @asynccontextmanager
    async def outage(self) -> AsyncGenerator[None]:
        """Nobody answers at the address: lines are cut, and new ones are refused."""
        assert self._site is not None
        assert self._runner.server is not None
        await self._site.stop()
        await self._runner.server.shutdown(timeout=0.05)  # 0 would wait for a long poll to end
        try:
            yield
        finally:
            await self._listen()

    @property
    def url(self) -> str:
        """What the bot takes for the address of the API."""
        return f"http://127.0.0.1:{self._port}"

    # --- who is there ----------------------------------------------------------------------

    def person(self, name: str, language: str = "en", username: str | None = None) -> Person:
        """A new account, which hasn't pressed Start yet."""
        return Person(self.world, self.world.new_account(name, username, language))

    def group(self, title: str, people: Iterable[Person]) -> Group:
        """A new group with these people, the first of whom owns it and adds the bot."""
        return Group(self.world, title, people)

    def menu(self, person: Person) -> tuple[str, ...]:
        """The commands in this person's menu in private."""
        account = person.account
        return menu(self.world, account.account_id, account.language)

    def inject(self, update: Json) -> int:
        """Queue an update of any shape, also a broken one; returns its id."""
        return self.world.updates.inject(update)

    # --- what happened ---------------------------------------------------------------------

    @property
    def log(self) -> list[Event]:
        """Everything that happened, in order."""
        return self.world.log.events

    @property
    def requests(self) -> list[Request]:
        """Every request the bot made, in order of its answer."""
        return self._server.requests

    @property
    def invalid(self) -> list[str]:
        """What the validator had against requests; empty without a validator."""
        return self._server.invalid

    @property
    def violations(self) -> int:
        """How many requests were too fast."""
        return self.world.pacer.violations

    @property
    def pending(self) -> int:
        """How many updates the bot hasn't confirmed yet."""
        return self.world.updates.pending

    @property
    def faults(self) -> list[Fault]:
        """The troubles to come; append to it, and clear it when the line is good again."""
        return self._server.faults

    def subscribe(self, callback: Callable[[Event], None]) -> None:
        """Call this with every event from now on."""
        self.world.log.subscribe(callback)

    async def until(self, predicate: Callable[[], object], timeout: float = 10.0) -> None:  # noqa: ASYNC109
        """Wait until this holds, looked at after every event; TimeoutError after real seconds."""
        await self.world.log.until(predicate, timeout)

    def forget(self) -> None:
        """Clear the records, so that a long story doesn't fill the memory."""
        self.log.clear()
        self.requests.clear()
        self.world.presses.clear()
