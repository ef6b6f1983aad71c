"""A few lines of Bot API on 127.0.0.1 that answer as a test tells them to."""

import asyncio
import json
from collections import defaultdict, deque
from collections.abc import AsyncGenerator, Awaitable, Callable
from contextlib import asynccontextmanager
from dataclasses import dataclass, field
from typing import Any

from aiohttp import web
from telegram.ext import Application, ApplicationBuilder, ExtBot

from bot.delivery.handling import AnyApplication
from bot.delivery.transport import AiohttpRequest

PATIENCE_SECONDS = 60  # only so that a broken program fails a test and does not hang it
TOKEN = "424242:loopback-Secret_token"
Answer = Callable[[web.Request], Awaitable[web.StreamResponse]]


def refusal(status: int, description: str, **parameters: int) -> Answer:
    """An answer that says no."""
    body: dict[str, Any] = {"ok": False, "error_code": status, "description": description}
    if parameters:
        body["parameters"] = parameters

    async def answer(request: web.Request) -> web.Response:
        return web.json_response(body, status=status)

    return answer


async def hang_up(request: web.Request) -> web.Response:
    """Drop the connection once the request is here."""
    assert request.transport is not None
    request.transport.abort()
    return web.Response()


async def fine(request: web.Request) -> web.Response:
    """All is well."""
    return web.json_response({"ok": True, "result": {"message_id": 1}})


def held(until: asyncio.Event, then: Answer = fine) -> Answer:
    """Answer so, but not before the event."""

    async def answer(request: web.Request) -> web.StreamResponse:
        await until.wait()
        return await then(request)

    return answer


async def never(request: web.Request) -> web.Response:
    """Do not answer."""
    await asyncio.Event().wait()
    raise AssertionError


@dataclass
class Call:
    """One request as it came."""

    method: str
    arguments: dict[str, Any]
    files: dict[str, bytes] = field(default_factory=dict)


class Loopback:
    """Remembers every call; answers from the list of the method, or else as if all were well."""

    def __init__(self) -> None:
        self.url = ""
        self.calls: list[Call] = []
        self.answers: defaultdict[str, deque[Answer]] = defaultdict(deque)
        self.updates: list[Any] = []
        self._news = asyncio.Event()
        self._called = asyncio.Event()
        self._messages = 0

    def of(self, method: str) -> list[dict[str, Any]]:
        """The arguments of every call of this method, in order."""
        return [call.arguments for call in self.calls if call.method == method]

    async def until(self, method: str, calls: int) -> list[dict[str, Any]]:
        """Wait until this method has been called that often; the arguments of every call."""
        async with asyncio.timeout(PATIENCE_SECONDS):
            while len(self.of(method)) < calls:
                self._called.clear()
                await self._called.wait()
        return self.of(method)

    def happens(self, *updates: Any) -> None:
        """These updates wait to be fetched."""
        self.updates.extend(updates)
        self._news.set()

    async def handle(self, request: web.Request) -> web.StreamResponse:
        """Answer one request."""
        method = request.match_info["method"]
        call = Call(method, {})
        if request.content_type == "application/json":
            call.arguments.update(await request.json())
        else:
            for name, value in (await request.post()).items():
                if isinstance(value, web.FileField):
                    call.files[name] = value.file.read()
                else:
                    call.arguments[name] = _value(str(value))
        self.calls.append(call)
        self._called.set()
        if self.answers[method]:
            return await self.answers[method].popleft()(request)
        return web.json_response({"ok": True, "result": await self._result(call)})

    async def _result(self, call: Call) -> Any:
        if call.method == "getMe":
            return {"id": 424242, "is_bot": True, "first_name": "Bot", "username": "loopback_bot"}
        if call.method == "getUpdates":
            return await self._fetch(call.arguments)
        if call.method.startswith("send"):
            self._messages += 1
            chat = {"id": call.arguments["chat_id"], "type": "private"}
            return {"message_id": self._messages, "date": 0, "chat": chat}
        return True

    async def _fetch(self, arguments: dict[str, Any]) -> list[Any]:
        offset = arguments.get("offset", 0)
        self.updates = [update for update in self.updates if update["update_id"] >= offset]
        if not self.updates:
            self._news.clear()
            try:
                async with asyncio.timeout(arguments["timeout"]):
                    await self._news.wait()
            except TimeoutError:
                pass
        return list(self.updates)


def _value(text: str) -> Any:
    try:
        return json.loads(text)
    except ValueError:
        return text


@asynccontextmanager
async def serving() -> AsyncGenerator[Loopback]:
    """The API on a free port."""
    loopback = Loopback()
    app = web.Application()
    app.router.add_route("*", f"/bot{TOKEN}/{{method}}", loopback.handle)
    # a call that is given up ends here too, so that no test waits for it at its end
    runner = web.AppRunner(app, access_log=None, handler_cancellation=True, shutdown_timeout=0.1)
    await runner.setup()
    site = web.TCPSite(runner, "127.0.0.1", 0)
    await site.start()
    loopback.url = f"http://127.0.0.1:{runner.addresses[0][1]}/bot"
    try:
        yield loopback
    finally:
        await runner.cleanup()


def bot_for(url: str) -> ExtBot[None]:
    """The chat library's bot, talking to that address through our transport."""
    return ExtBot(
        TOKEN, base_url=url, request=AiohttpRequest(), get_updates_request=AiohttpRequest()
    )


def application_for(url: str) -> AnyApplication:
    """The chat library's application, without an updater."""
    application: Application[Any, Any, Any, Any, Any, Any] = (
        ApplicationBuilder().bot(bot_for(url)).updater(None).build()
    )
    return application
