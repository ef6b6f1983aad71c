"""Every kind of trouble that a class is put through, one after the other."""

import random
import sqlite3
from collections.abc import AsyncGenerator, Callable, Mapping
from contextlib import asynccontextmanager, closing
from datetime import datetime, timedelta
from pathlib import Path

from bot.storage.sqlite import Sqlite
from demo_script.stand_in import Trouble
from demo_script.stand_in.faults import (
    Fault,
    bad_gateway,
    busy,
    cut_after,
    cut_before,
    slow,
    torn_json,
)
from tests.campaigns.ordeal import Begin, Kind, Ordeal
from tests.looking import file_of

PAGE = "<html><body><h1>Please log in to this network</h1></body></html>"
REFUSED_STATUSES = (400, 401, 403, 404, 409, 413, 429, 500, 502, 503, 504)
"""With a page in place of an answer: whoever said that, it wasn't the chat service."""
NO_ANSWERS = (
    "", "null", "[]", "7", '"yes"', "{}", '{"ok":true}', '{"ok":false}',
    '{"ok":false,"error_code":500,"description":"Internal Server Error"}',
)  # fmt: skip
"""What can be read as JSON, and is no answer."""
CONFLICT = '{"ok":false,"error_code":409,"description":"Conflict: terminated by other getUpdates"}'
REVOKED = '{"ok":false,"error_code":401,"description":"Unauthorized"}'


def said(status: int, body: str, *, applied: bool = False) -> Trouble:
    """That answer, whatever was asked."""
    return Trouble(status=status, body=body, applied=applied)


# --- the line ------------------------------------------------------------------------------------


def on_every_line(
    trouble: Callable[[], Trouble], luck: random.Random, share: float = 0.5, *, only: str = ""
) -> Fault:
    """So many requests meet it; of one method alone, if that is said."""

    def fault(method: str, _parameters: Mapping[str, object]) -> Trouble | None:
        if (only and method.lower() != only.lower()) or luck.random() >= share:
            return None
        return trouble()

    return fault


def on_the_line(
    trouble: Callable[[random.Random], Trouble], share: float = 0.5, *, only: str = ""
) -> Begin:
    """The same while it lasts, and counted."""

    @asynccontextmanager
    async def begin(ordeal: Ordeal) -> AsyncGenerator[None]:
        def counted() -> Trouble:
            ordeal.met += 1
            return trouble(ordeal.luck)

        fault = on_every_line(counted, ordeal.luck, share, only=only)
        ordeal.api.faults.append(fault)
        yield
        ordeal.api.faults.remove(fault)

    return begin


@asynccontextmanager
async def nobody_answers(ordeal: Ordeal) -> AsyncGenerator[None]:
    """Connections are refused, and those that there were are cut."""
    async with ordeal.api.outage():
        ordeal.met += 1
        yield


def storm(wait_seconds: int, share: float) -> Begin:
    """So many requests are too many for a while, and whoever doesn't wait is counted."""

    @asynccontextmanager
    async def begin(ordeal: Ordeal) -> AsyncGenerator[None]:
        until: dict[str, datetime] = {}
        blowing = True

        def fault(method: str, parameters: Mapping[str, object]) -> Trouble | None:
            if method.lower() == "answercallbackquery":  # is never asked twice
                return None
            key = str(parameters.get("chat_id", method.lower()))
            left = (until.get(key, ordeal.now) - ordeal.now).total_seconds()
            if left > 0:
                ordeal.too_soon += 1
                return busy(max(1, int(left)))
            if not blowing or ordeal.luck.random() >= share:
                return None
            until[key] = ordeal.now + timedelta(seconds=wait_seconds)
            ordeal.met += 1
            return busy(wait_seconds)

        ordeal.api.faults.append(fault)
        yield
        blowing = False  # the waits that were asked for still hold

    return begin


# --- what comes in -------------------------------------------------------------------------------

ODD_UPDATES: tuple[dict[str, object], ...] = (
    {"something_new": {"from": {"id": 1}, "value": [1, 2, {"deep": None}]}},
    {"message": "a text where an object should be"},
    {"message": {"from": "nobody", "text": 5}},
    {"message": {"message_id": 1, "date": "yesterday", "chat": {}}},
    {"callback_query": {"id": None, "from": None, "data": ["a"]}},
    {"callback_query": {}},
    {"edited_message": []},
    {"my_chat_member": {"chat": 7}},
    {"message_reaction": {"emoji": "?"}},
    {},
)


@asynccontextmanager
async def odd_updates(ordeal: Ordeal) -> AsyncGenerator[None]:
    """Some of a kind that nobody knows, and some that can't be read."""
    for odd in ODD_UPDATES:
        number = ordeal.api.inject(odd)
        ordeal.injected.add(number)
        ordeal.met += 1
    yield


@asynccontextmanager
async def the_group_moves(ordeal: Ordeal) -> AsyncGenerator[None]:
    """The class's chat becomes a supergroup, before the bot is told of it."""
    ordeal.group.upgrade()
    ordeal.met += 1
    yield


@asynccontextmanager
async def some_block_the_bot(ordeal: Ordeal) -> AsyncGenerator[None]:
    """Two members block it while everybody is being asked."""
    leaving = ordeal.room.members[:2]
    ordeal.room.members = ordeal.room.members[2:]
    leaving[0].block()
    leaving[1].deactivate()
    ordeal.met += len(leaving)
    yield
    leaving[0].press_start()


# --- the service ---------------------------------------------------------------------------------

CONFLICTS = on_the_line(lambda _: said(409, CONFLICT), 1.0, only="getUpdates")
REVOCATION = on_the_line(lambda _: said(401, REVOKED), 1.0)


# --- the disk ------------------------------------------------------------------------------------


def with_pragma(name: str, bad: int, good: int) -> Begin:
    """The open database is set so for a while, as often as it is opened."""

    @asynccontextmanager
    async def begin(ordeal: Ordeal) -> AsyncGenerator[None]:
        engine = _engine(ordeal)
        await engine.change(f"PRAGMA {name} = {bad}")
        ordeal.met += 1
        yield
        await engine.change(f"PRAGMA {name} = {good}")

    return begin


def _engine(ordeal: Ordeal) -> Sqlite:
    house = ordeal.supervised.house
    assert house is not None
    return file_of(house.database)


@asynccontextmanager
async def locked(ordeal: Ordeal) -> AsyncGenerator[None]:
    """Somebody else holds the database for writing."""
    _engine(ordeal).patience = 0.02
    place = ordeal.ground.place
    assert isinstance(place, Path)
    with closing(sqlite3.connect(place, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        ordeal.met += 1
        yield
        other.execute("ROLLBACK")


# --- the computer --------------------------------------------------------------------------------


def clock_is_off(by: timedelta) -> Begin:
    """The clock is set wrong, and after a while right again."""

    @asynccontextmanager
    async def begin(ordeal: Ordeal) -> AsyncGenerator[None]:
        await ordeal.supervised.leap(ordeal.now + by)
        ordeal.met += 1
        yield
        await ordeal.supervised.leap(ordeal.now - by)

    return begin


@asynccontextmanager
async def asleep(ordeal: Ordeal) -> AsyncGenerator[None]:
    """Nothing runs for two days, and no connection is left afterwards."""
    await ordeal.supervised.passing(60.0)
    async with ordeal.api.outage():
        await ordeal.supervised.leap(ordeal.now + timedelta(days=2))
        ordeal.met += 1
    yield


ANY_OF: tuple[Callable[[random.Random], Trouble], ...] = (
    lambda _: cut_before(),
    lambda _: cut_after(),
    lambda _: torn_json(),
    lambda luck: bad_gateway(luck.choice((500, 502, 503)), applied=luck.random() < 0.5),
    lambda luck: said(luck.choice(REFUSED_STATUSES), PAGE),
    lambda luck: said(luck.choice((200, 500)), luck.choice(NO_ANSWERS)),
    lambda luck: slow(luck.uniform(0.0, 0.1)),
)
KINDS: tuple[Kind, ...] = (
    Kind(name="connection refused", begin=nobody_answers),
    Kind(name="connection refused for ten minutes", begin=nobody_answers, lasts=600, silent=True),
    Kind(name="dropped before it was accepted", begin=on_the_line(lambda _: cut_before())),
    Kind(name="dropped after it was accepted", begin=on_the_line(lambda _: cut_after())),
    Kind(name="half an answer", begin=on_the_line(lambda _: torn_json())),
    Kind(name="500", begin=on_the_line(lambda _: bad_gateway(500))),
    Kind(name="502", begin=on_the_line(lambda _: bad_gateway(502))),
    Kind(name="502 though it was done", begin=on_the_line(lambda _: bad_gateway(applied=True))),
    Kind(name="a page with 200", begin=on_the_line(lambda _: said(200, PAGE))),
    Kind(
        name="a page with any status",
        begin=on_the_line(lambda luck: said(luck.choice(REFUSED_STATUSES), PAGE)),
    ),
    Kind(
        name="wrong JSON",
        begin=on_the_line(lambda luck: said(200, luck.choice(NO_ANSWERS))),
    ),
    Kind(
        name="wrong JSON with 500",
        begin=on_the_line(lambda luck: said(500, luck.choice(NO_ANSWERS))),
    ),
    Kind(name="too many requests, short waits", begin=storm(3, 0.4)),
    Kind(name="too many requests, long waits", begin=storm(120, 0.3), lasts=60),
    Kind(name="all of it at once", begin=on_the_line(lambda luck: luck.choice(ANY_OF)(luck))),
    Kind(name="slow answers", begin=on_the_line(lambda luck: slow(luck.uniform(0.05, 0.3)))),
    Kind(name="no answer in time", begin=on_the_line(lambda _: slow(21.0), 0.1), real=True),
    Kind(name="updates of unknown kinds and shapes", begin=odd_updates),
    Kind(name="409, a second poller", begin=CONFLICTS),
    Kind(name="401, the token is revoked for a while", begin=REVOCATION),
    Kind(name="the group moves", begin=the_group_moves),
    Kind(name="some block the bot amid the questions", begin=some_block_the_bot),
    Kind(
        name="disk full",
        begin=with_pragma("max_page_count", 1, 1_000_000),
    ),
    Kind(
        name="read-only database",
        begin=with_pragma("query_only", 1, 0),
    ),
    Kind(name="locked database", begin=locked),
    Kind(name="the clock leaps five hours ahead", begin=clock_is_off(timedelta(hours=5))),
    Kind(name="the clock leaps five hours back", begin=clock_is_off(timedelta(hours=-5))),
    Kind(name="the computer sleeps for two days", begin=asleep),
)
