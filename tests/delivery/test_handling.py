"""Updates reach their handlers once, in each person's order, and no bad one blocks the rest."""

import asyncio
from collections.abc import AsyncGenerator
from datetime import datetime
from typing import Any

import pytest
from telegram import Update
from telegram.ext import TypeHandler

from bot.delivery.delivery import Delivery
from bot.delivery.handling import MOST_AT_ONCE, MOST_TRIES, AnyApplication
from bot.delivery.intake import as_incoming
from bot.storage import inbox, outbox
from bot.storage.database import Database, Transaction
from bot.storage.inbox import Incoming
from bot.storage.outbox import Kind, Letter, Priority
from bot.tasks import Tasks
from tests.delivery.loopback import Loopback
from tests.delivery.test_intake import said
from tests.fixed_clock import NOON, FixedClock

BROKEN = {"update_id": 50, "message": "not a message"}


class Room:
    """A running delivery with one handler, which notes who said what and answers it."""

    def __init__(self, application: AnyApplication, database: Database, noon: FixedClock) -> None:
        self.heard: list[tuple[int, str]] = []
        self.at_once = 0
        self.most_at_once = 0
        self.speaking = asyncio.Event()
        self.open = asyncio.Event()
        """Nobody is heard to the end before this is set."""
        self.open.set()
        self.free = asyncio.Event()
        """Nobody who was heard leaves before this is set."""
        self.free.set()
        self.failures: dict[str, int] = {}
        """How often the handler still fails at this text."""
        self.database = database
        self.noon = noon
        self.tasks = Tasks()
        self.delivery = Delivery(application, database, noon, poll_timeout=5)
        application.add_handler(TypeHandler(Update, self.hear))
        application.add_error_handler(self.fail)

    async def hear(self, update: Update, context: Any) -> None:
        assert update.message is not None
        assert update.message.text is not None
        assert update.effective_user is not None
        text = update.message.text
        self.at_once += 1
        self.speaking.set()
        self.most_at_once = max(self.at_once, self.most_at_once)
        await asyncio.sleep(0.001)
        await self.open.wait()
        self.at_once -= 1
        if self.failures.get(text, 0):
            self.failures[text] -= 1
            raise ZeroDivisionError
        self.heard.append((update.effective_user.id, text))
        async with self.database.transaction() as tx:
            await inbox.mark_done(tx, update.update_id, NOON)
            await outbox.queue(tx, answer(update.update_id, update.effective_user.id), NOON)
        await self.free.wait()

    async def hears_all(self, *texts: str) -> None:
        """Wait until these were said, without any help of the clock."""
        async with asyncio.timeout(20):
            while sorted(text for _, text in self.heard) != sorted(texts):  # noqa: ASYNC110
                await asyncio.sleep(0.001)

    async def fail(self, update: object, context: Any) -> None:
        """What an application does with a failure is not this test's business."""

    async def settled(self) -> None:
        """Wait until nothing is left to do, pushing the clock when only it holds things up."""
        while not await self.delivery.idle():
            if self.noon.at_rest == 2 and not self.delivery.busy:
                self.noon.push(1)
            await asyncio.sleep(0)


def answer(number: int, chat: int) -> Letter:
    return Letter(
        id=f"answer:{number}",
        chat=chat,
        method="sendMessage",
        arguments={"text": str(number)},
        priority=Priority.INTERACTIVE,
        kind=Kind.CONFIRMATION,
    )


@pytest.fixture
async def room(
    application: AnyApplication, database: Database, noon: FixedClock
) -> AsyncGenerator[Room]:
    running = Room(application, database, noon)
    yield running
    await running.delivery.drain()
    await running.tasks.end()


def parked(caplog: pytest.LogCaptureFixture) -> list[int]:
    """The updates that the log says are parked."""
    told = (getattr(record, "fields", {}) for record in caplog.records)
    return [each["update"] for each in told if "problem" in each]


async def hears(api: Loopback, room: Room, *updates: object) -> None:
    room.delivery.start(room.tasks)
    api.happens(*updates)
    await api.until("getUpdates", 2)
    await room.settled()


async def test_each_person_is_heard_in_order_and_answered_once(api: Loopback, room: Room) -> None:
    updates = [said(n, person=1 + n % 7, text=str(n)) for n in range(70)]
    await hears(api, room, *updates)
    for person in range(1, 8):
        heard = [int(text) for who, text in room.heard if who == person]
        assert heard == sorted(heard)
        assert len(heard) == 10
    answers = [int(call["text"]) for call in api.of("sendMessage")]
    assert sorted(answers) == list(range(70))
    assert 1 < room.most_at_once <= MOST_AT_ONCE


async def test_whoever_waits_for_a_place_gets_it_at_once(api: Loopback, room: Room) -> None:
    """The clock stands still: whoever leaves must say so."""
    people = range(MOST_AT_ONCE + 5)
    room.delivery.start(room.tasks)
    api.happens(*(said(n, person=1 + n, text=str(n)) for n in people))
    await room.hears_all(*map(str, people))
    assert room.noon.now() == NOON


async def test_what_is_said_while_the_one_before_ends_is_heard_at_once(
    api: Loopback, room: Room
) -> None:
    """It came after the first was done, and before its place was free: nobody else will wake us."""
    room.free.clear()
    room.delivery.start(room.tasks)
    api.happens(said(1, person=7, text="one"))
    await room.hears_all("one")
    api.happens(said(2, person=7, text="two"))
    await api.until("getUpdates", 3)
    for _ in range(50):  # turns look at it, and find its person busy
        await asyncio.sleep(0.001)
    assert room.heard == [(7, "one")]
    room.free.set()
    await room.hears_all("one", "two")
    assert room.noon.now() == NOON


async def test_what_comes_before_anybody_can_handle_it_is_kept(api: Loopback, room: Room) -> None:
    room.delivery.open(room.tasks)
    api.happens(said(1, person=7, text="early"))
    await api.until("getUpdates", 2)
    assert room.heard == []
    room.delivery.start(room.tasks)
    await room.settled()
    api.happens(said(2, person=7, text="later"))
    await api.until("getUpdates", 3)
    await room.settled()
    assert room.heard == [(7, "early"), (7, "later")]


async def test_what_an_earlier_run_left_comes_before_what_is_new(
    api: Loopback, database: Database, room: Room
) -> None:
    async with database.transaction() as tx:
        left = [as_incoming(said(900 + n, text=f"left {n}")) for n in range(3)]
        await inbox.receive(tx, [update for update in left if update], NOON)
    await hears(api, room, said(5, text="new"))
    assert [text for _, text in room.heard] == ["left 0", "left 1", "left 2", "new"]


async def test_an_unreadable_update_is_parked_at_once_and_blocks_nobody(
    api: Loopback, room: Room, caplog: pytest.LogCaptureFixture
) -> None:
    await hears(api, room, said(49, text="a"), BROKEN, said(51, text="b"))
    assert [text for _, text in room.heard] == ["a", "b"]
    async with room.database.transaction() as tx:
        row = await tx.one("SELECT tries, problem FROM inbox WHERE parked_at IS NOT NULL")
    assert row is not None
    assert row["tries"] == 1
    assert row["problem"].startswith("unreadable")
    assert parked(caplog) == [50]
    assert "not a message" not in caplog.text


async def test_a_handler_that_fails_is_tried_again_before_its_persons_next(
    api: Loopback, room: Room
) -> None:
    room.failures["a"] = MOST_TRIES - 1
    await hears(api, room, said(1, text="a"), said(2, text="b"), said(3, person=2, text="c"))
    assert room.heard == [(2, "c"), (1, "a"), (1, "b")]
    assert [int(call["text"]) for call in api.of("sendMessage")] == [3, 1, 2]


async def test_a_handler_that_keeps_failing_parks_its_update(
    api: Loopback, room: Room, caplog: pytest.LogCaptureFixture
) -> None:
    room.failures["secret words"] = 99
    await hears(api, room, said(1, text="secret words"), said(2, text="b"))
    assert room.heard == [(1, "b")]
    assert room.failures["secret words"] == 99 - MOST_TRIES
    assert parked(caplog) == [1]
    assert "secret words" not in caplog.text


async def test_draining_lets_a_running_handler_finish(api: Loopback, room: Room) -> None:
    room.delivery.start(room.tasks)
    api.happens(said(1, text="a"))
    await room.speaking.wait()
    await room.delivery.drain()
    assert room.heard == [(1, "a")]
    async with room.database.transaction() as tx:
        assert await inbox.is_done(tx, 1)


async def test_who_is_alone_is_heard_without_asking_who_else_waits(
    api: Loopback, room: Room, monkeypatch: pytest.MonkeyPatch
) -> None:
    await hears(api, room, said(1, text="a"))
    asked: list[datetime] = []

    async def heads(tx: Transaction, now: datetime, limit: int) -> tuple[Incoming, ...]:
        asked.append(now)
        return await inbox_heads(tx, now, limit)

    inbox_heads = inbox.heads
    monkeypatch.setattr(inbox, "heads", heads)
    for number in range(2, 6):
        api.happens(said(number, person=number % 2, text=str(number)))
        await api.until("getUpdates", number + 1)
        await room.hears_all("a", *map(str, range(2, number + 1)))
    assert not asked
    room.failures["b"] = 1  # then it is another one that waits
    api.happens(said(6, text="b"))
    await api.until("getUpdates", 7)
    await room.settled()
    assert asked


async def test_who_comes_while_their_own_rests_is_heard_after_it(api: Loopback, room: Room) -> None:
    """What failed rests, and isn't running: what comes in next is not all that waits."""
    await hears(api, room, said(1, person=9, text="before"))
    room.failures["a"] = 1
    api.happens(said(2, person=1, text="a"))
    await api.until("getUpdates", 3)
    while room.failures["a"] or room.delivery.busy:  # noqa: ASYNC110 - there is no event for it
        await asyncio.sleep(0.001)
    api.happens(said(3, person=1, text="b"), said(4, person=2, text="c"))
    await room.hears_all("before", "c")
    await room.settled()
    assert room.heard == [(9, "before"), (2, "c"), (1, "a"), (1, "b")]
