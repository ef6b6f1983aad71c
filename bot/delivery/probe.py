"""Asks the chat API who we are and what time it is there: nothing is changed or fetched."""

from dataclasses import dataclass
from datetime import datetime
from email.utils import parsedate_to_datetime
from http import HTTPStatus

import aiohttp

SECONDS = 10.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Greeting:
    """What came of it."""

    problem: str = ""
    """Why nobody answered, as a kind of failure; empty if somebody did."""
    status: int = 0
    username: str = ""
    """Of the bot; empty if the answer was none of the chat API's."""
    strange: bool = False
    """Whether whoever answered is no Bot API."""
    its_time: datetime | None = None
    """By the clock of the chat API; None if it didn't say."""
    webhook: bool = False
    """Whether updates are sent elsewhere, so that they can't be fetched."""
    waiting: int = 0
    """Updates that wait to be fetched."""

    @property
    def refused(self) -> bool:
        """Whether it knows no such bot. It says "not found" to what doesn't look like a token."""
        return self.status in (HTTPStatus.UNAUTHORIZED, HTTPStatus.NOT_FOUND)


async def greet(api_url: str, token: str) -> Greeting:
    """Call the API; never raises for what it does or doesn't answer."""
    base = f"{api_url.rstrip('/')}/bot{token}"
    try:
        async with aiohttp.ClientSession(timeout=aiohttp.ClientTimeout(total=SECONDS)) as session:
            status, its_time, me = await _ask(session, f"{base}/getMe")
            username = None if me is None else me.get("username")
            if not isinstance(username, str):
                return Greeting(status=status, its_time=its_time, strange=me is None)
            _, _, hook = await _ask(session, f"{base}/getWebhookInfo")
    # names of classes only: what aiohttp says about an error may hold the address, and so the token
    except (aiohttp.ClientError, TimeoutError, ValueError) as error:
        return Greeting(problem=type(error).__name__)
    hook = hook or {}
    waiting = hook.get("pending_update_count")
    return Greeting(
        status=status,
        username=username,
        its_time=its_time,
        webhook=bool(hook.get("url")),
        waiting=waiting if isinstance(waiting, int) else 0,
    )


async def _ask(
    session: aiohttp.ClientSession, url: str
) -> tuple[int, datetime | None, dict[str, object] | None]:
    """The status, the time, and the result; None if that is no answer of a Bot API."""
    async with session.get(url, allow_redirects=False) as response:
        its_time = _moment(response.headers.get("Date", ""))
        try:
            body = await response.json(content_type=None)
        except ValueError:
            body = None
    if not isinstance(body, dict) or "ok" not in body:
        return response.status, its_time, None
    result = body.get("result")
    return response.status, its_time, result if isinstance(result, dict) else {}


def _moment(text: str) -> datetime | None:
    try:
        moment = parsedate_to_datetime(text)
    except ValueError:
        return None
    return moment if moment.tzinfo is not None else None
