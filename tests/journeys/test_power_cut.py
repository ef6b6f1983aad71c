"""What a power cut would leave on the disk: all that the chat service was told or told us."""

import sqlite3
from collections.abc import AsyncGenerator
from contextlib import asynccontextmanager, closing
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from bot.delivery.transport import call
from bot.storage.database import Database, Transaction
from demo_script.stand_in import Event
from tests.journeys.evening import STARTS, USUAL, WEEK, Evening, asked, is_summary
from tests.journeys.test_restarts import Fragile, fragile

__all__ = ["fragile"]

pytestmark = pytest.mark.of_files

ENDINGS = ("", "-wal")
"""The file itself, and the log that SQLite writes ahead of it."""

KNOWN = {
    "message": "SELECT 1 FROM outbox WHERE chat = ? AND state = 'sending'",
    "edit": """
        SELECT 1 FROM outbox WHERE chat = ? AND state IN ('queued', 'sending')
        UNION SELECT 1 FROM inbox WHERE done_at IS NULL
    """,
}
"""What is found on the disk when something like that reaches a chat."""


class Disk:
    """The database as of the last commit that was waited for: files without what came later.

    Of SQLite's files nothing else is synced (SQLite, "Write-Ahead Logging", 2.4 and 5).
    """

    def __init__(self, file: Path, copy: Path) -> None:
        self._file = file
        self._copy = copy
        self.cut = False
        """Whether the power is gone: what is written from now on is lost."""
        self.fails_soon = False
        """Whether the power goes after the next commit that isn't waited for."""
        self.synced = 0
        """How many commits were waited for."""
        self.unsynced = 0

    def sync(self) -> None:
        """Everything is on the disk now."""
        self.synced += 1
        if not self.cut:
            self._move(self._file, self._copy)

    def come_back(self) -> None:
        """The power is there again; the bot isn't running."""
        self.cut = self.fails_soon = False
        Path(f"{self._file}-shm").unlink(missing_ok=True)
        self._move(self._copy, self._file)

    @staticmethod
    def _move(what: Path, to: Path) -> None:
        for ending in ENDINGS:
            old, new = (Path(f"{each}{ending}") for each in (what, to))
            new.write_bytes(old.read_bytes() if old.exists() else b"")

    def find(self, sql: str, *given: int) -> list[tuple[Any, ...]]:
        """What the database would say after a power cut."""
        with closing(sqlite3.connect(self._copy)) as connection:
            return connection.execute(sql, given).fetchall()


@pytest.fixture
def disk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Disk:
    file = tmp_path / "class-effort.sqlite3"
    disk, transaction = Disk(file, tmp_path / "copy"), Database.transaction

    @asynccontextmanager
    async def noted(
        self: Database, *, patient: bool = False, lasting: bool = True
    ) -> AsyncGenerator[Transaction]:
        writes = self._engine.writes
        async with transaction(self, patient=patient, lasting=lasting) as tx:
            yield tx
        if self._engine.writes == writes:
            return  # nothing goes to the disk, nor what was written before
        if lasting:
            disk.sync()
        else:
            disk.unsynced += 1
            disk.cut = disk.cut or disk.fails_soon

    monkeypatch.setattr(Database, "transaction", noted)
    return disk


async def test_nothing_is_heard_of_that_a_power_cut_would_take_back(
    evening: Evening, disk: Disk, monkeypatch: pytest.MonkeyPatch
) -> None:
    unknown, acknowledged = list[Event](), list[int]()

    def sent(event: Event) -> None:
        """Each message is known of as being sent; a change, or what led to it, is still to do."""
        sql = KNOWN.get(event.kind) if event.direction == "out" else None
        if sql is not None and not disk.find(sql, event.chat_id):
            unknown.append(event)

    async def noted(bot: Any, method: str, arguments: dict[str, Any], **more: Any) -> Any:
        """Whatever is acknowledged is in the inbox."""
        if "offset" in arguments:
            last = arguments["offset"] - 1
            assert disk.find("SELECT 1 FROM inbox WHERE update_id = ?", last) == [(1,)]
            acknowledged.append(last)
        return await call(bot, method, arguments, **more)

    monkeypatch.setattr("bot.delivery.intake.call", noted)
    evening.api.subscribe(sent)
    await evening.class_is_over()
    for person in evening.members.values():
        await evening.answer_all(person)
        await evening.say(person, "/help")
    assert unknown == []
    assert len(acknowledged) > len(evening.members)
    assert disk.unsynced > len(acknowledged)  # or there was nothing to lose


async def _answer_last(fragile: Fragile, disk: Disk, value: float | str) -> None:
    """The power goes as soon as this is handled; the bot says, in vain, that it has noted it."""
    disk.fails_soon = True
    await fragile.evening.answer(fragile.ana, str(asked(fragile.ana.last_message)), value)
    assert disk.find("SELECT count(*) FROM inbox WHERE done_at IS NULL") == [(1,)], "to do again"


async def _come_back(fragile: Fragile, disk: Disk, at: datetime | None = None) -> None:
    """The power is back at that moment; who uses the chat notices nothing."""
    await fragile.lives.end()
    if at is not None:
        fragile.lives.clock.push_to(at)
    disk.come_back()
    fragile.evening.theatre = await fragile.lives.begin()
    await fragile.evening.settle()


@pytest.mark.parametrize("before", [0, 1, 3])
async def test_what_was_answered_before_a_power_cut_is_taken_up_again(
    fragile: Fragile, disk: Disk, before: int
) -> None:
    await fragile.evening.class_is_over()
    for _ in range(before):
        question = asked(fragile.ana.last_message)
        assert question is not None
        await fragile.evening.answer(fragile.ana, str(question), USUAL[question.topic])
    await _answer_last(fragile, disk, 7)
    said, shown = fragile.evening.answers(fragile.ana), fragile.ana.last_message.text
    assert len(said) == before + 1
    await _come_back(fragile, disk)
    assert fragile.evening.answers(fragile.ana) == said
    assert fragile.ana.last_message.text == shown
    await fragile.evening.answer_all(fragile.ana)
    assert is_summary(fragile.ana.last_message)


async def test_an_answer_counts_by_when_it_came(fragile: Fragile, disk: Disk) -> None:
    await fragile.evening.class_is_over()
    await _answer_last(fragile, disk, 8)
    await _come_back(fragile, disk, at=STARTS + WEEK)
    assert fragile.evening.answers(fragile.ana) == {"c": 8.0}, "it came before the next class"
    await fragile.evening.answer_all(fragile.ana)
    assert fragile.evening.answers(fragile.ana) == {"c": 8.0}, "the others came too late"
