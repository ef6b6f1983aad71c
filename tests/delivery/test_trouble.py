"""While the database takes nothing, nothing is acknowledged or given up; then all goes on."""

import asyncio
from collections.abc import AsyncGenerator

import pytest

from bot.delivery.handling import AnyApplication
from bot.storage import inbox, outbox
from bot.storage.database import Database
from tests.delivery.loopback import Loopback, held
from tests.delivery.test_handling import Room, answer
from tests.delivery.test_intake import said
from tests.fixed_clock import NOON, FixedClock
from tests.looking import file_of

pytestmark = pytest.mark.of_files


@pytest.fixture
async def room(
    application: AnyApplication, database: Database, noon: FixedClock
) -> AsyncGenerator[Room]:
    running = Room(application, database, noon)
    running.delivery.start(running.tasks)
    yield running
    await running.delivery.drain()
    await running.tasks.end()


async def close_to_writing(database: Database, *, closed: bool = True) -> None:
    """From now on the file takes nothing, as where a disk is full or mounted read-only."""
    await file_of(database).change(f"PRAGMA query_only = {int(closed)}")


async def is_done(database: Database, number: int) -> bool:
    async with database.transaction() as tx:
        return await inbox.is_done(tx, number)


async def push(room: Room, seconds: int) -> None:
    """Let time pass, and everybody do what they do then."""
    for _ in range(seconds):
        room.noon.push(1)
        for _ in range(40):
            await asyncio.sleep(0)
        await asyncio.sleep(0.005)


async def test_an_update_that_can_not_be_stored_is_not_acknowledged_and_comes_again(
    api: Loopback, room: Room, database: Database, caplog: pytest.LogCaptureFixture
) -> None:
    await api.until("getUpdates", 1)
    await close_to_writing(database)
    api.happens(said(7, text="a"), said(8, text="b"))
    await push(room, 20)
    assert len(api.of("getUpdates")) > 1
    assert not any("offset" in call for call in api.of("getUpdates"))
    assert not room.tasks.failed.done(), "it waits, and does not end"
    await close_to_writing(database, closed=False)
    while not room.heard:
        await push(room, 1)
    await api.until("sendMessage", 2)
    await room.settled()
    assert [text for _, text in room.heard] == ["a", "b"]
    assert api.of("getUpdates")[-1]["offset"] == 9
    errors = [each.message for each in caplog.records if each.levelname == "ERROR"]
    assert errors.count("the database can't be used") == 1


async def test_an_update_that_can_not_be_handled_is_not_given_up(
    api: Loopback, room: Room, database: Database
) -> None:
    """However long it lasts: a full disk is not the update's fault."""
    room.open.clear()
    api.happens(said(7, text="a"))
    await room.speaking.wait()
    await close_to_writing(database)
    room.open.set()
    await push(room, 60)
    assert room.heard, "it was tried"
    assert not room.tasks.failed.done()
    await close_to_writing(database, closed=False)
    async with database.transaction() as tx:
        assert await tx.value("SELECT tries FROM inbox") == 0
    while not await is_done(database, 7):
        await push(room, 1)


async def test_what_was_sent_is_written_down_as_soon_as_it_can_be(
    api: Loopback, room: Room, database: Database
) -> None:
    landing = asyncio.Event()
    api.answers["sendMessage"].append(held(landing))
    async with database.transaction() as tx:
        await outbox.queue(tx, answer(1, 5), NOON)
    await api.until("sendMessage", 1)
    await close_to_writing(database)
    landing.set()
    await push(room, 12)
    assert not room.tasks.failed.done()
    await close_to_writing(database, closed=False)
    while room.delivery.busy:
        await push(room, 1)
    async with database.transaction() as tx:
        assert await tx.value("SELECT state FROM outbox") == "sent"
    assert len(api.of("sendMessage")) == 1, "it is not sent a second time"
