"""What a power cut would leave on the disk: all that the chat service was told or told us."""

import sqlite3
from collections.abc import AsyncGenerator
from contextlib import asynccontextmanager, closing
from pathlib import Path
from typing import Any

import pytest

from bot.delivery.transport import call
from bot.storage.database import Database, Transaction
from demo_script.stand_in import Event
from tests.journeys.evening import Evening

pytestmark = pytest.mark.of_files


class Disk:
    """The database as of the last commit that was waited for: files without what came later.

    Of SQLite's files nothing else is synced (SQLite, "Write-Ahead Logging", 2.4 and 5).
    """

    def __init__(self, file: Path, copy: Path) -> None:
        self._file = file
        self._copy = copy
        self.synced = 0
        """How many commits were waited for."""
        self.unsynced = 0

    def sync(self) -> None:
        """Everything is on the disk now."""
        self.synced += 1
        for ending in ("", "-wal"):
            file, copy = (Path(f"{each}{ending}") for each in (self._file, self._copy))
            copy.write_bytes(file.read_bytes())

    def find(self, sql: str, *given: int) -> list[tuple[Any, ...]]:
        """What the database would say after a power cut."""
        with closing(sqlite3.connect(self._copy)) as connection:
            return connection.execute(sql, given).fetchall()


@pytest.fixture
def disk(evening: Evening, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Disk:
    disk, transaction = Disk(evening.file, tmp_path / "copy"), Database.transaction

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

    monkeypatch.setattr(Database, "transaction", noted)
    return disk


async def test_nothing_is_heard_of_that_a_power_cut_would_take_back(
    evening: Evening, disk: Disk, monkeypatch: pytest.MonkeyPatch
) -> None:
    unknown, acknowledged = list[Event](), list[int]()

    def sent(event: Event) -> None:
        """Each message and each change is known of as being sent, so that it is in doubt."""
        sql = "SELECT 1 FROM outbox WHERE chat = ? AND state = 'sending'"
        out = event.direction == "out" and event.kind in ("message", "edit")
        if out and not disk.find(sql, event.chat_id):
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
    assert unknown == []
    assert len(acknowledged) > len(evening.members)
    assert disk.unsynced > len(acknowledged)  # or there was nothing to lose
