"""The token never gets into the log, whoever writes and however it fails."""

import io
import logging
from collections.abc import Generator
from urllib.parse import quote

import pytest
from telegram.error import TelegramError

from bot.delivery.journal import open_journal
from bot.delivery.transport import call
from tests.delivery.loopback import TOKEN, bot_for

SECRET = TOKEN.partition(":")[2]


@pytest.fixture
def journal() -> Generator[io.StringIO]:
    written = io.StringIO()
    root = logging.getLogger()
    before = root.level
    handler = open_journal(TOKEN, stream=written)
    yield written
    root.removeHandler(handler)
    root.setLevel(before)


def test_messages_and_arguments_are_cleaned(journal: io.StringIO) -> None:
    log = logging.getLogger("anything")
    log.info("one %s", f"https://host/bot{TOKEN}/getMe")
    log.info(f"two {TOKEN}")  # noqa: G004 - as others may write it
    log.info("three %(where)s", {"where": quote(TOKEN, safe="")})
    log.info("four %r", [SECRET])
    text = journal.getvalue()
    assert SECRET not in text
    assert text.count("[token]") == 4


def test_tracebacks_and_stacks_are_cleaned(journal: io.StringIO) -> None:
    try:
        try:
            raise ValueError(TOKEN)
        except ValueError as inner:
            raise RuntimeError("outer") from inner
    except RuntimeError:
        logging.getLogger("anything").exception("failed", stack_info=True)
    text = journal.getvalue()
    assert "RuntimeError: outer" in text
    assert "ValueError: [token]" in text
    assert SECRET not in text


def test_http_clients_are_kept_quiet(journal: io.StringIO) -> None:
    logging.getLogger("httpx").info("HTTP Request: POST https://host/bot…/getMe")
    assert journal.getvalue() == ""


async def test_a_failed_call_does_not_show_the_token(journal: io.StringIO) -> None:
    bot = bot_for("http://127.0.0.1:1/bot")
    await bot.request.initialize()
    try:
        await call(bot, "sendMessage", {"chat_id": 1})
    except TelegramError:
        logging.getLogger("anything").exception("failed")
    await bot.request.shutdown()
    assert "NotSent" in journal.getvalue()
    assert SECRET not in journal.getvalue()
