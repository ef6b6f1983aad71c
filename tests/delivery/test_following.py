"""What follows an update is done in the background, is waited for, and breaks nothing."""

import asyncio
import logging
from collections.abc import AsyncGenerator

import pytest

from bot.delivery.following import Following
from bot.tasks import Tasks


@pytest.fixture
async def tasks() -> AsyncGenerator[Tasks]:
    """Of an open house."""
    open_tasks = Tasks()
    yield open_tasks
    await open_tasks.end()


@pytest.fixture
def settled() -> asyncio.Event:
    return asyncio.Event()


@pytest.fixture
def following(tasks: Tasks, settled: asyncio.Event) -> Following:
    opened = Following(settled)
    opened.open(tasks)
    return opened


async def test_nobody_waits_for_its_end_but_the_house(following: Following) -> None:
    may_end, done = asyncio.Event(), []

    async def work() -> None:
        await may_end.wait()
        done.append(True)

    await following.begin(work)
    assert following.busy
    draining = asyncio.ensure_future(following.drain())
    await asyncio.sleep(0)
    assert not draining.done()
    may_end.set()
    await draining
    assert done
    assert not following.busy


async def test_its_end_wakes_whoever_waits_until_nothing_is_left(
    following: Following, settled: asyncio.Event
) -> None:
    async def work() -> None:
        settled.clear()

    await following.begin(work)
    async with asyncio.timeout(5):
        await settled.wait()
    assert not following.busy


async def test_what_fails_is_told_and_stops_nothing(
    following: Following, tasks: Tasks, caplog: pytest.LogCaptureFixture
) -> None:
    async def work() -> None:
        raise ZeroDivisionError

    await following.begin(work)
    await following.drain()
    assert not tasks.failed.done()
    assert [record.levelno for record in caplog.records] == [logging.ERROR]


async def test_what_hangs_is_let_go(
    following: Following, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    monkeypatch.setattr("bot.delivery.following.FOLLOWING_SECONDS", 0.01)

    async def work() -> None:
        await asyncio.Event().wait()

    await following.begin(work)
    async with asyncio.timeout(5):
        await following.drain()
    assert not following.busy
    assert [record.levelno for record in caplog.records] == [logging.ERROR]
