"""A disk that is full, a file that is locked: told once, nothing half done, over by itself."""

import asyncio
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from bot.errors import StorageTrouble, Trouble
from bot.storage.database import Database, open_database
from bot.storage.pulse import note_beat
from bot.storage.trouble import trouble_of
from tests.fixed_clock import NOON
from tests.looking import file_of
from tests.storage.beats import read, told, write

pytestmark = pytest.mark.of_files

FILLING = "x" * 200_000
"""More than the pages of a file that may not grow have room for."""


async def pragma(database: Database, setting: str) -> None:
    """As if the disk or the file had changed beneath the connection."""
    await file_of(database).change(f"PRAGMA {setting}")


@pytest.mark.parametrize(
    ("begins", "ends", "trouble"),
    [
        ("max_page_count = 1", "max_page_count = 1000000", Trouble.FULL),
        ("query_only = ON", "query_only = OFF", Trouble.READ_ONLY),
    ],
)
async def test_a_database_that_takes_nothing_is_told_of_once_and_again_when_it_does(
    database: Database, caplog: pytest.LogCaptureFixture, begins: str, ends: str, trouble: Trouble
) -> None:
    await pragma(database, begins)
    for _ in range(3):
        with pytest.raises(StorageTrouble) as refused:
            await write(database, FILLING)
        assert refused.value.trouble is trouble
    assert told(caplog) == [("the database can't be used", trouble)]
    await pragma(database, ends)
    await write(database, FILLING)
    assert await read(database) == 1
    assert told(caplog)[1:] == [("the database works again", trouble)]


async def test_a_full_disk_that_can_be_read_is_still_full(
    database: Database, caplog: pytest.LogCaptureFixture
) -> None:
    await pragma(database, "max_page_count = 1")
    for _ in range(2):
        with pytest.raises(StorageTrouble):
            await write(database, FILLING)
        assert await read(database) == 0
    assert len(told(caplog)) == 1


async def test_what_a_transaction_did_before_it_met_the_full_disk_is_undone(
    database: Database,
) -> None:
    async def write_both() -> None:
        async with database.transaction() as tx:
            await note_beat(tx, "small", NOON)
            await note_beat(tx, FILLING, NOON)

    await pragma(database, "max_page_count = 1")
    with pytest.raises(StorageTrouble):
        await write_both()
    assert await read(database) == 0


async def test_a_locked_database_is_waited_for_and_then_told_of(
    tmp_path: Path, database: Database, caplog: pytest.LogCaptureFixture
) -> None:
    file_of(database).patience = 0.02
    with closing(sqlite3.connect(tmp_path / "class-effort.sqlite3", isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        for _ in range(2):
            with pytest.raises(StorageTrouble):
                await write(database)
        other.execute("ROLLBACK")
    await write(database)
    assert [trouble for _, trouble in told(caplog)] == [Trouble.LOCKED, Trouble.LOCKED]


async def test_a_lock_that_is_held_shortly_is_nothing_to_speak_of(
    tmp_path: Path, database: Database, caplog: pytest.LogCaptureFixture
) -> None:
    with closing(sqlite3.connect(tmp_path / "class-effort.sqlite3", isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        writing = asyncio.create_task(write(database))
        await asyncio.sleep(0.2)  # which also shows that nobody else is kept waiting
        assert not writing.done()
        other.execute("ROLLBACK")
        await writing
    assert told(caplog) == []


async def test_a_database_that_is_locked_at_the_start_is_told_as_that(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("bot.storage.sqlite.PRAGMAS", ("busy_timeout = 20",))
    path = tmp_path / "class-effort.sqlite3"
    with closing(sqlite3.connect(path, isolation_level=None)) as other:
        other.execute("BEGIN EXCLUSIVE")
        with pytest.raises(StorageTrouble) as refused:
            async with open_database(path):
                pass
    assert refused.value.trouble is Trouble.LOCKED


def test_a_wrong_statement_is_no_trouble_of_the_disk() -> None:
    with closing(sqlite3.connect(":memory:")) as connection:
        with pytest.raises(sqlite3.OperationalError) as wrong:
            connection.execute("SELECT nothing FROM nowhere")
        with pytest.raises(sqlite3.IntegrityError) as doubled:
            connection.executescript("CREATE TABLE a (b UNIQUE); INSERT INTO a VALUES (1), (1)")
    assert trouble_of(wrong.value) is None
    assert trouble_of(doubled.value) is None
    assert trouble_of(sqlite3.OperationalError("without a code")) is None
