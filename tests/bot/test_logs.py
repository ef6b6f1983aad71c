"""A line of the log says what happened, and nothing of what people said, nor the token."""

import io
import logging
from collections.abc import Generator
from urllib.parse import quote

import pytest
from telegram.error import TelegramError

from bot.delivery.transport import call
from bot.errors import StorageTrouble, Trouble
from bot.logs import discreet, fields, open_log
from tests.delivery.loopback import TOKEN, bot_for

SECRET = TOKEN.partition(":")[2]
OURS, THEIRS = logging.getLogger("bot.anything"), logging.getLogger("library.anything")


@pytest.fixture
def log() -> Generator[io.StringIO]:
    written = io.StringIO()
    root = logging.getLogger()
    before = root.level
    handler = open_log(TOKEN, stream=written)
    yield written
    root.removeHandler(handler)
    root.setLevel(before)


def test_a_line_has_a_moment_a_level_an_event_and_its_fields(log: io.StringIO) -> None:
    OURS.warning("a letter was not sent", extra=fields(letter="reply/7/1", reason="it says no"))
    at, _, rest = log.getvalue().partition(" ")
    assert at.startswith("at=20")
    assert at.endswith("Z")
    assert rest == (
        "level=warning event=a-letter-was-not-sent from=bot.anything "
        'letter=reply/7/1 reason="it says no"\n'
    )


def test_an_event_is_called_the_same_whatever_it_carries(log: io.StringIO) -> None:
    for number in (1, 2):
        OURS.info("%s of session %s failed", "prompt", number)
    assert log.getvalue().count("event=of-session-failed ") == 2
    assert 'text="prompt of session 2 failed"' in log.getvalue()


def test_a_value_can_not_break_its_line_or_its_quotes(log: io.StringIO) -> None:
    OURS.info("said", extra=fields(one='a "b" \\ c\nd', none=None))
    assert log.getvalue().count("\n") == 1
    assert r'one="a \"b\" \\ c d" none=""' in log.getvalue()


def test_the_token_is_left_out_of_every_value(log: io.StringIO) -> None:
    OURS.info("one %s", f"https://host/bot{TOKEN}/getMe")
    OURS.info("two", extra=fields(where=quote(TOKEN, safe="")))
    OURS.info("three %r", [SECRET])
    OURS.info("four", extra=fields(where="x" * 980 + TOKEN))
    assert SECRET[:8] not in log.getvalue()
    assert log.getvalue().count("[token]") == 4


def test_of_an_exception_only_its_kinds_and_places_are_told(log: io.StringIO) -> None:
    try:
        try:
            raise KeyError("Ana")
        except KeyError as inner:
            raise RuntimeError("Ana said 7", TOKEN) from inner
    except RuntimeError:
        OURS.exception("handling failed", stack_info=True)
    (line,) = log.getvalue().splitlines()
    assert 'error="RuntimeError < KeyError"' in line
    assert "bot/test_logs.py:" in line
    assert "Ana" not in line
    assert "7" not in line.partition("error=")[2].partition("passed=")[0]
    assert SECRET not in line


def test_what_libraries_put_between_their_words_is_not_told(log: io.StringIO) -> None:
    THEIRS.error("Task %s was never retrieved\nfuture: KeyError('Ana')", "of Ana")
    assert "event=task-was-never-retrieved from=library.anything\n" in log.getvalue()
    assert "Ana" not in log.getvalue()


def test_http_clients_are_kept_quiet(log: io.StringIO) -> None:
    logging.getLogger("httpx").info("HTTP Request: POST https://host/bot…/getMe")
    assert log.getvalue() == ""


def test_trouble_of_the_storage_is_told_by_the_storage_alone(log: io.StringIO) -> None:
    try:
        raise StorageTrouble(Trouble.FULL)
    except StorageTrouble:
        OURS.exception("a turn failed")
        THEIRS.exception("a job failed")
        logging.getLogger("bot.storage.database").error("it is full")
    assert log.getvalue().count("\n") == 1
    assert "it-is-full" in log.getvalue()


async def test_a_failed_call_does_not_show_the_token(log: io.StringIO) -> None:
    bot = bot_for("http://127.0.0.1:1/bot")
    await bot.request.initialize()
    try:
        await call(bot, "sendMessage", {"chat_id": 1})
    except TelegramError:
        OURS.exception("failed")
    await bot.request.shutdown()
    assert "NotSent" in log.getvalue()
    assert SECRET not in log.getvalue()


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ("Bad Request: chat not found", "Bad Request: chat not found"),
        ("Bad Request: message can't be edited", "Bad Request: message can't be edited"),
        ("can't parse entities: tag \"O'Ana\" at 3", "can't parse entities: tag …"),
        ("can't parse entities: character 'A' is reserved", "can't parse entities: character …"),
    ],
)
def test_what_the_chat_api_quotes_is_left_out(said: str, told: str) -> None:
    assert discreet(said) == told
