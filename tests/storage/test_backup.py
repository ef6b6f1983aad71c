"""A backup is whole even while the bot writes, and only a sound one is put back."""

import asyncio
import resource
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest

from bot.errors import AlreadyRunning, BadInput, DatabaseTooNew, StorageTrouble
from bot.storage.backup import backup, finish_restoring, restore
from bot.storage.copying import check
from bot.storage.database import Database, open_database
from bot.storage.health import look_at
from bot.storage.lock import hold_lock
from tests.fixed_clock import NOON as AT_NOON

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


BACKER = """
import sys
from pathlib import Path
from bot.storage import copying
flush = copying.flush
def slowly(path):
    print("copied", flush=True)
    sys.stdin.read()
copying.flush = slowly
copying.copy(Path(sys.argv[1]), Path(sys.argv[2]))
"""


def test_a_killed_backup_leaves_no_file_of_that_name_and_the_next_one_tidies_up(
    tmp_path: Path,
) -> None:
    path = asyncio.run(a_database(tmp_path / "live", "a"))
    target = tmp_path / "saved"
    with subprocess.Popen(
        [sys.executable, "-c", BACKER, str(path), str(target)],
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, cwd=Path(__file__).parents[2],
    ) as process:  # fmt: skip
        assert process.stdout is not None
        assert process.stdout.readline() == b"copied\n"
        backup(path, tmp_path / "another")
        assert len(list(tmp_path.glob(".*part"))) == 1, "one that is being written stays"
        process.kill()
    assert not target.exists()
    backup(path, target)
    assert names(target) == {"a left", "a right"}
    assert list(tmp_path.glob(".*")) == []


async def test_a_backup_that_does_not_fit_is_told_as_that_and_leaves_nothing(
    tmp_path: Path,
) -> None:
    path = await a_database(tmp_path / "live", "a")
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (8192, before[1]))
    try:
        with pytest.raises(StorageTrouble):
            backup(path, tmp_path / "saved")
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)
    assert {file.name for file in tmp_path.iterdir()} <= {"live", "live-wal", "live-shm"}


async def test_the_database_knows_when_it_was_saved(tmp_path: Path) -> None:
    path = await a_database(tmp_path / "live")
    backup(path, tmp_path / "saved", now=AT_NOON)
    assert look_at(path).last_backup == AT_NOON
    assert look_at(tmp_path / "saved").last_backup is None


@pytest.mark.parametrize("step", ["before", "between", "after"])
async def test_a_restoring_that_was_killed_is_finished_or_given_up(
    tmp_path: Path, step: str
) -> None:
    """Never does an empty database take the place of both."""
    path = await a_database(tmp_path / "live", "new")
    fresh = tmp_path / "live.restoring"
    await a_database(fresh, "old")
    Path(f"{path}-wal").write_bytes(b"of the database that is replaced")
    if step != "before":
        path.rename(tmp_path / "live.before-1")
    if step == "after":
        Path(f"{path}-wal").rename(tmp_path / "live.before-1-wal")
    finish_restoring(path)
    assert not fresh.exists()
    if step == "before":
        assert Path(f"{path}-wal").exists()
        Path(f"{path}-wal").unlink()
        assert names(path) == {"new left", "new right"}
    else:
        assert not Path(f"{path}-wal").exists()
        assert Path(f"{tmp_path / 'live.before-1'}-wal").read_bytes().startswith(b"of the")
        assert names(path) == {"old left", "old right"}
