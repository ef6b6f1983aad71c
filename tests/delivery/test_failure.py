"""Every answer and accident, made over real HTTP, is judged as the outbox needs it."""

import asyncio
import socket
from datetime import timedelta

import pytest
from aiohttp import web
from telegram.error import TelegramError

from bot.delivery.failure import Failure, Verdict, judge
from bot.delivery.handling import AnyApplication
from bot.delivery.transport import call
from tests.delivery.loopback import Answer, Loopback, bot_for, hang_up, never, refusal


async def failure_of(application: AnyApplication, wait: float = 5) -> Failure:
    with pytest.raises(TelegramError) as caught:
        await call(application.bot, "sendMessage", {"chat_id": 1, "text": "x"}, read_timeout=wait)
    return judge(caught.value)


@pytest.mark.parametrize(
    ("answer", "verdict"),
    [
        (refusal(403, "Forbidden: bot was blocked by the user"), Verdict.UNREACHABLE),
        (refusal(403, "Forbidden: user is deactivated"), Verdict.UNREACHABLE),
        (refusal(400, "Bad Request: chat not found"), Verdict.UNREACHABLE),
        (refusal(400, "Bad Request: can't parse entities"), Verdict.REFUSED),
        (refusal(400, "Bad Request: message is not modified: same"), Verdict.UNCHANGED),
        (refusal(400, "Bad Request: message to edit not found"), Verdict.GONE),
        (refusal(413, "Request Entity Too Large"), Verdict.REFUSED),
        (refusal(404, "Not Found: method not found"), Verdict.REFUSED),
        (refusal(401, "Unauthorized"), Verdict.STOP),
        (refusal(409, "Conflict: terminated by other getUpdates request"), Verdict.STOP),
        (refusal(500, "Internal Server Error"), Verdict.UNCERTAIN),
        (refusal(502, "Bad Gateway"), Verdict.UNCERTAIN),
        (refusal(429, "Too Many Requests"), Verdict.LATER),
        (hang_up, Verdict.UNCERTAIN),
    ],
)
async def test_each_answer_is_judged(
    api: Loopback, application: AnyApplication, answer: Answer, verdict: Verdict
) -> None:
    api.answers["sendMessage"].append(answer)
    assert (await failure_of(application)).verdict is verdict


async def test_too_many_requests_says_how_long(api: Loopback, application: AnyApplication) -> None:
    api.answers["sendMessage"].append(refusal(429, "Too Many Requests", retry_after=17))
    failure = await failure_of(application)
    assert failure.verdict is Verdict.LATER
    assert failure.wait == timedelta(seconds=17)


async def test_a_moved_group_says_where(api: Loopback, application: AnyApplication) -> None:
    answer = refusal(400, "Bad Request: group chat was upgraded", migrate_to_chat_id=-1001)
    api.answers["sendMessage"].append(answer)
    failure = await failure_of(application)
    assert failure.verdict is Verdict.MOVED
    assert failure.new_chat == -1001


async def test_no_answer_in_time_is_uncertain(api: Loopback, application: AnyApplication) -> None:
    api.answers["sendMessage"].append(never)
    failure = await failure_of(application, wait=0.05)
    assert failure.verdict is Verdict.UNCERTAIN


async def test_a_refused_connection_is_certainly_not_sent() -> None:
    with socket.socket() as unused:
        unused.bind(("127.0.0.1", 0))  # bound, not listening: connections are refused
        bot = bot_for(f"http://127.0.0.1:{unused.getsockname()[1]}/bot")
        await bot.request.initialize()
        with pytest.raises(TelegramError) as caught:
            await call(bot, "sendMessage", {"chat_id": 1, "text": "x"})
        await bot.request.shutdown()
    assert judge(caught.value).verdict is Verdict.LATER


async def test_no_free_connection_is_certainly_not_sent(
    api: Loopback, application: AnyApplication
) -> None:
    api.answers["sendMessage"].extend([never] * 32)
    slow = [asyncio.create_task(failure_of(application)) for _ in range(32)]
    await api.until("sendMessage", 32)
    with pytest.raises(TelegramError) as caught:
        await application.bot.send_message(1, "x", connect_timeout=0.05, pool_timeout=0)
    assert judge(caught.value).verdict is Verdict.LATER
    for task in slow:
        task.cancel()
    await asyncio.gather(*slow, return_exceptions=True)


def page(status: int, body: str = "<html>Please log in</html>") -> Answer:
    """What some machine on the way says in place of the chat API."""

    async def answer(request: web.Request) -> web.Response:
        return web.Response(status=status, text=body, content_type="text/html")

    return answer


@pytest.mark.parametrize(
    ("answer", "verdict"),
    [
        *((page(status), Verdict.LATER) for status in (302, 400, 401, 403, 404, 409, 413, 429)),
        *((page(status), Verdict.UNCERTAIN) for status in (200, 500, 502, 503, 504)),
        *((page(200, body), Verdict.UNCERTAIN) for body in ("", "null", "[]", "7", '{"ok":true}')),
        *((page(500, body), Verdict.UNCERTAIN) for body in ("null", "[]", "7", '"yes"', "{}")),
        (page(500, '{"parameters": {"retry_after": "soon"}}'), Verdict.UNCERTAIN),
        (page(200, '["result"]'), Verdict.UNCERTAIN),
    ],
)
async def test_what_the_chat_api_did_not_say_tells_nothing_of_token_chat_or_message(
    api: Loopback, application: AnyApplication, answer: Answer, verdict: Verdict
) -> None:
    api.answers["sendMessage"].append(answer)
    assert (await failure_of(application)).verdict is verdict
