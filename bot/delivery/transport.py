"""Puts aiohttp behind the chat library, and says when a request certainly did not leave."""

import json
import os
from collections.abc import AsyncIterator, Mapping
from typing import Any

import aiohttp
from telegram import Bot
from telegram.error import NetworkError, TelegramError, TimedOut
from telegram.request import BaseRequest, RequestData

# RetryAfter otherwise warns about its own attribute whenever it is raised
os.environ.setdefault("PTB_TIMEDELTA", "1")

KEEP_ALIVE_SECONDS = 75.0  # a class answers within a minute or two: one TLS handshake for all
CONNECT_SECONDS = 5.0
READ_SECONDS = 20.0
POOL_SECONDS = 5.0
SUCCESS, TOO_MANY, FIRST_OF_GATEWAYS = range(200, 300), 429, 500
"""Statuses of HTTP."""
PARAMETERS = ("migrate_to_chat_id", "retry_after")
"""What a refusal may say more exactly; each a whole number."""
LARGEST_FILE_BYTES = 256 * 1024  # plan files and timetables are far smaller


class NotSent(NetworkError):
    """The request certainly did not reach the chat API: trying again can't do anything twice."""


class FileTooLarge(TelegramError):
    """A file from the chat that is larger than anything we take."""


class AiohttpRequest(BaseRequest):
    """The chat library's transport, with connections that are kept."""

    __slots__ = ("_connections", "_session")

    def __init__(self, connections: int = 32) -> None:
        self._connections = connections
        self._session: aiohttp.ClientSession | None = None

    @property
    def read_timeout(self) -> float | None:
        """Seconds to wait for an answer, unless a call says otherwise."""
        return READ_SECONDS

    async def initialize(self) -> None:
        """Open the pool of connections."""
        if self._session is None:
            connector = aiohttp.TCPConnector(
                limit=self._connections, keepalive_timeout=KEEP_ALIVE_SECONDS
            )
            self._session = aiohttp.ClientSession(
                connector=connector, headers={"User-Agent": self.USER_AGENT}
            )

    async def shutdown(self) -> None:
        """Close every connection."""
        if self._session is not None:
            await self._session.close()
            self._session = None

    async def do_request(
        self,
        url: str,
        method: str,
        request_data: RequestData | None = None,
        read_timeout: Any = BaseRequest.DEFAULT_NONE,
        write_timeout: Any = BaseRequest.DEFAULT_NONE,
        connect_timeout: Any = BaseRequest.DEFAULT_NONE,
        pool_timeout: Any = BaseRequest.DEFAULT_NONE,
    ) -> tuple[int, bytes]:
        """Send one request; the answer's status and body, or an exception that says how sure."""
        if self._session is None:
            raise NotSent("the transport is not open")
        connect = _or(connect_timeout, CONNECT_SECONDS)
        timeout = aiohttp.ClientTimeout(
            total=None,
            # aiohttp's `connect` spans the wait for a free place and the handshake
            connect=None if connect is None else connect + (_or(pool_timeout, POOL_SECONDS) or 0),
            sock_connect=connect,
            sock_read=_or(read_timeout, READ_SECONDS),
        )
        try:
            async with self._session.request(
                method, url, data=_body(request_data), timeout=timeout, allow_redirects=False
            ) as response:
                body = await _read(response.content.iter_any(), limited=method == "GET")
        # names of classes only: what aiohttp says about an error may hold the address, and so the
        # token
        except (aiohttp.ClientConnectorError, aiohttp.ConnectionTimeoutError) as error:
            raise NotSent(type(error).__name__) from error
        except TimeoutError as error:
            raise TimedOut(type(error).__name__) from error
        except aiohttp.ClientError as error:
            raise NetworkError(type(error).__name__) from error
        if method == "POST":
            _must_be_answer(response.status, body)
        return response.status, body

    @staticmethod
    def parse_json_payload(payload: bytes) -> dict[str, Any]:
        """The answer; TelegramError for anything that the library would stumble over."""
        answer = read_answer(payload)
        if answer is None:
            raise NetworkError("what came back is no answer")
        return answer


def _must_be_answer(status: int, body: bytes) -> None:
    """What other machines on the way say tells nothing of our token, the chat or the message."""
    if status in SUCCESS:
        if b'"result"' not in body:
            raise NetworkError("what came back is no answer")
    elif read_answer(body) is None:
        told = "too many requests" if status == TOO_MANY else f"status {status} without an answer"
        # a gateway may have passed it on before it failed; whoever refuses has not
        raise NetworkError(told) if status >= FIRST_OF_GATEWAYS else NotSent(told)


def read_answer(body: bytes) -> dict[str, Any] | None:
    """An answer of the chat API with what is of use in it; None if it is something else."""
    try:
        answer = json.loads(body)
    except ValueError:
        return None
    if not isinstance(answer, dict):
        return None
    parameters = answer.pop("parameters", None)
    if isinstance(parameters, dict):
        known = {name: parameters.get(name) for name in PARAMETERS}
        answer["parameters"] = {n: value for n, value in known.items() if type(value) is int}
    return answer


async def call(
    bot: Bot,
    method: str,
    arguments: Mapping[str, object],
    read_timeout: float = READ_SECONDS,
) -> Any:
    """Call a Bot API method by its name; the raw result."""
    # The library warns when a method that it has a function for is called by name. It asks for
    # the name as written, and drops a trailing underscore afterwards.
    return await bot.do_api_request(
        f"{method}_", api_kwargs=dict(arguments), read_timeout=read_timeout
    )


def _or(given: Any, otherwise: float) -> float | None:
    if given is BaseRequest.DEFAULT_NONE:
        return otherwise
    return None if given is None else float(given)


def _body(request_data: RequestData | None) -> aiohttp.FormData | aiohttp.JsonPayload | None:
    """As JSON, which is smaller than a form and takes a tenth of the time; files need a form."""
    if request_data is None:
        return None
    if not request_data.contains_files:
        return aiohttp.JsonPayload(request_data.parameters)
    form = aiohttp.FormData(request_data.json_parameters)
    for field, (name, content, mime) in request_data.multipart_data.items():
        form.add_field(field, content, filename=name, content_type=mime)
    return form


async def _read(chunks: AsyncIterator[bytes], *, limited: bool) -> bytes:
    """The whole body; files from the chat only up to the largest size we take."""
    body = bytearray()
    async for chunk in chunks:
        body += chunk
        if limited and len(body) > LARGEST_FILE_BYTES:
            raise FileTooLarge(f"more than {LARGEST_FILE_BYTES} bytes")
    return bytes(body)
