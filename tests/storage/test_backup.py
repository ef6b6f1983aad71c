"""A backup is whole even while the bot writes, and only a sound one is put back."""

import asyncio
import sqlite3
from pathlib import Path

import pytest

from bot.errors import AlreadyRunning, BadInput, DatabaseTooNew
from bot.storage.backup import backup, restore
from bot.storage.copying import check
from bot.storage.database import Database, open_database
from bot.storage.lock import hold_lock

NOW = "2026-03-02T12:00:00Z"


def names(path: Path) -> set[str]:
    connection = sqlite3.connect(path)
    try:
        return {name for (name,) in connection.execute("SELECT name FROM pulse")}
    finally:
        connection.close()


async def write(database: Database, name: str) -> None:
    async with database.transaction() as tx:
        await tx.execute("INSERT INTO pulse VALUES (:name, :at)", name=f"{name} left", at=NOW)
        await tx.execute("INSERT INTO pulse VALUES (:name, :at)", name=f"{name} right", at=NOW)


async def a_database(path: Path, *written: str) -> Path:
    async with open_database(path) as database:
        for name in written:
            await write(database, name)
    return path


async def test_a_backup_while_writing_has_whole_transactions(tmp_path: Path) -> None:
    path, target = tmp_path / "live", tmp_path / "saved"
    async with open_database(path) as database:
        await write(database, "before")
        copying = asyncio.create_task(asyncio.to_thread(backup, path, target))
        number = 0
        while not copying.done():
            await write(database, str(number))
            number += 1
        await copying
    saved = names(target)
    assert {"before left", "before right"} <= saved
    assert len({name.split()[0] for name in saved}) * 2 == len(saved)
    assert target.stat().st_mode & 0o777 == 0o600
    check(target)


async def test_a_backup_overwrites_only_when_told(tmp_path: Path) -> None:
    path = await a_database(tmp_path / "live", "a")
    target = tmp_path / "saved"
    target.write_text("precious")
    with pytest.raises(BadInput):
        backup(path, target)
    assert target.read_text() == "precious"
    backup(path, target, overwrite=True)
    assert names(target) == {"a left", "a right"}


def test_nothing_is_made_from_nothing(tmp_path: Path) -> None:
    with pytest.raises(BadInput):
        backup(tmp_path / "missing", tmp_path / "saved")
    assert list(tmp_path.iterdir()) == []


async def test_restoring_brings_the_old_state_back_and_keeps_the_other(tmp_path: Path) -> None:
    path = await a_database(tmp_path / "live", "old")
    backup(path, tmp_path / "saved")
    async with open_database(path) as database:
        await write(database, "new")
    kept = restore(tmp_path / "saved", path)
    assert kept is not None
    assert names(path) == {"old left", "old right"}
    assert names(kept) == {"old left", "old right", "new left", "new right"}
    assert path.stat().st_mode & 0o777 == 0o600


async def test_what_only_the_log_holds_is_kept_and_not_mixed_in(tmp_path: Path) -> None:
    """The old file's write-ahead log moves with it: it must not be replayed into the backup."""
    await a_database(tmp_path / "saved", "old")
    path = await a_database(tmp_path / "live", "first")
    connection = sqlite3.connect(path)
    connection.execute("INSERT INTO pulse VALUES ('only in the log', ?)", (NOW,))
    connection.commit()
    for suffix in ("", "-wal"):  # what a killed process leaves behind
        (tmp_path / f"copy{suffix}").write_bytes((tmp_path / f"live{suffix}").read_bytes())
    connection.close()
    kept = restore(tmp_path / "saved", tmp_path / "copy")
    assert kept is not None
    assert names(tmp_path / "copy") == {"old left", "old right"}
    assert "only in the log" in names(kept)


async def test_a_damaged_file_is_refused_and_nothing_changes(tmp_path: Path) -> None:
    path = await a_database(tmp_path / "live", "a")
    saved = tmp_path / "saved"
    backup(path, saved)
    content = bytearray(saved.read_bytes())
    content[2000:-2000] = b"\xff" * (len(content) - 4000)
    saved.write_bytes(content)
    with pytest.raises(BadInput):
        restore(saved, path)
    assert names(path) == {"a left", "a right"}


@pytest.mark.parametrize("content", [b"", b"not a database at all" * 100])
async def test_what_is_no_backup_is_refused(tmp_path: Path, content: bytes) -> None:
    (tmp_path / "saved").write_bytes(content)
    with pytest.raises(BadInput):
        restore(tmp_path / "saved", tmp_path / "live")
    assert not (tmp_path / "live").exists()


async def test_a_backup_of_a_newer_program_is_refused(tmp_path: Path) -> None:
    async with open_database(tmp_path / "saved") as database, database.transaction() as tx:
        await tx.execute("INSERT INTO schema_version VALUES (999, '999_later.sql', :at)", at=NOW)
    with pytest.raises(DatabaseTooNew):
        restore(tmp_path / "saved", tmp_path / "live")


async def test_a_database_in_use_is_not_replaced(tmp_path: Path) -> None:
    path = await a_database(tmp_path / "live", "a")
    backup(path, tmp_path / "saved")
    with hold_lock(path), pytest.raises(AlreadyRunning):
        restore(tmp_path / "saved", path)
    assert names(path) == {"a left", "a right"}
