"""The transport keeps its connections, and does not swallow large files."""

import pytest
from aiohttp import web

from bot.delivery.handling import AnyApplication
from bot.delivery.transport import LARGEST_FILE_BYTES, FileTooLarge, call
from tests.delivery.loopback import TOKEN, Loopback


async def test_one_connection_serves_many_calls(api: Loopback, application: AnyApplication) -> None:
    ports = set()

    async def answer(request: web.Request) -> web.Response:
        assert request.transport is not None
        ports.add(request.transport.get_extra_info("peername"))
        return web.json_response({"ok": True, "result": True})

    api.answers["sendMessage"].extend([answer] * 5)
    for _ in range(5):
        assert await call(application.bot, "sendMessage", {"chat_id": 1}) is True
    assert len(ports) == 1


@pytest.mark.parametrize(("size", "fits"), [(LARGEST_FILE_BYTES, True), (10**7, False)])
async def test_a_file_is_taken_up_to_its_limit(
    api: Loopback, application: AnyApplication, size: int, fits: bool
) -> None:
    async def answer(request: web.Request) -> web.Response:
        return web.Response(body=b"x" * size)

    api.answers["plan.toml"].append(answer)
    url = f"{api.url}{TOKEN}/plan.toml"
    if fits:
        assert len(await application.bot.request.retrieve(url)) == size
    else:
        with pytest.raises(FileTooLarge):
            await application.bot.request.retrieve(url)


async def test_what_is_said_arrives_as_it_was_meant(
    api: Loopback, application: AnyApplication
) -> None:
    """Numbers, truths, texts of digits, quotes, letters of any script, and keyboards."""
    keyboard = {"inline_keyboard": [[{"text": "7½ “ö” שלום 🧘", "callback_data": "x"}]]}
    said = {
        "chat_id": -1001234567890,
        "text": '"7" <b>&amp;</b>\n+ %20 ñ',
        "protect_content": True,
        "reply_markup": keyboard,
    }
    await call(application.bot, "sendMessage", said)
    await call(application.bot, "sendMessage", {"chat_id": 1, "text": "7"})
    assert api.of("sendMessage") == [said, {"chat_id": 1, "text": "7"}]
