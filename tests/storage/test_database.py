"""Transactions are whole, upgrades are whole, and the file is nobody else's business."""

import asyncio
import random
import sqlite3
import threading
from pathlib import Path

import pytest

from bot.errors import BadInput, DatabaseTooNew, StorageTrouble
from bot.storage.database import Database, Transaction, open_database
from bot.storage.sqlite import PATIENT_COMMITS, SLOW_IN_A_ROW, SLOW_SECONDS, connect
from bot.storage.upgrade import Script, known_scripts, newest_known, upgrade
from tests.conftest import SQLITE
from tests.fixed_clock import FixedClock

NOW = "2026-03-02T12:00:00Z"
ONE = Script(number=1, name="001_one.sql", sql="CREATE TABLE one (a TEXT);\n-- the end\n")
TWO = Script(
    number=2,
    name="002_two.sql",
    sql="""INSERT INTO one VALUES ('a; b');
CREATE TRIGGER t AFTER INSERT ON one BEGIN
    INSERT INTO two VALUES (new.a);
    SELECT 1;
END;
CREATE TABLE two (a TEXT);
""",
)
BROKEN = Script(number=2, name="002_broken.sql", sql="CREATE TABLE two (a TEXT);\nNONSENSE;\n")
UNFINISHED = Script(number=2, name="002_unfinished.sql", sql="CREATE TABLE two (a TEXT")


async def test_a_transaction_is_whole_however_its_task_ends(database: Database) -> None:
    """Each task writes a pair; hundreds are cancelled anywhere; no half pair is ever kept."""
    luck = random.Random(20260302)

    async def write_pair(number: int) -> None:
        async with database.transaction() as tx:
            for half in ("left", "right"):
                await tx.execute(
                    "INSERT INTO pulse (name, at) VALUES (:name, :at)",
                    name=f"{number} {half}",
                    at=NOW,
                )

    tasks = [asyncio.create_task(write_pair(number)) for number in range(400)]
    while not all(task.done() for task in tasks):
        luck.choice(tasks).cancel()
        await asyncio.sleep(0)
    ends = await asyncio.gather(*tasks, return_exceptions=True)
    async with database.transaction() as tx:
        names = {row["name"] for row in await tx.all("SELECT name FROM pulse")}
    finished = {number for number, end in enumerate(ends) if end is None}
    assert len(finished) < 400
    kept = {int(name.split()[0]) for name in names}
    assert len(names) == 2 * len(kept)
    assert finished <= kept


async def test_a_failure_inside_leaves_nothing(database: Database) -> None:
    async def write_and_fail() -> None:
        async with database.transaction() as tx:
            await tx.execute("INSERT INTO pulse VALUES ('x', :at)", at=NOW)
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        await write_and_fail()
    async with database.transaction() as tx:
        assert await tx.value("SELECT count(*) FROM pulse") == 0


async def test_a_transaction_inside_a_transaction_fails_loudly(database: Database) -> None:
    async with database.transaction():
        with pytest.raises(RuntimeError, match="pass the outer one on"):
            async with database.transaction():
                pass
        with pytest.raises(RuntimeError, match="pass the outer one on"):
            await database.read(_names)
    async with database.transaction() as tx:
        assert await tx.value("SELECT 1") == 1


async def test_what_is_read_aside_is_what_was_committed_when_that_began(
    database: Database, engine: str
) -> None:
    """On a server those who write wait until it's over."""
    began, go_on = threading.Event(), threading.Event()

    async def twice(tx: Transaction) -> tuple[int, int]:
        first = await tx.value("SELECT count(*) FROM pulse")
        if engine == SQLITE:
            began.set()
            assert go_on.wait(30)
        return first, await tx.value("SELECT count(*) FROM pulse")

    await _write(database, "first")
    reading = asyncio.create_task(database.read(twice))
    while engine == SQLITE and not began.is_set():  # noqa: ASYNC110 - it is set in a thread
        await asyncio.sleep(0.001)
    await _write(database, "second")
    go_on.set()
    first, then = await reading
    assert first == then
    if engine == SQLITE:
        assert first == 1
    assert await database.read(twice) == (2, 2)


async def _write(database: Database, name: str) -> None:
    async with database.transaction() as tx:
        await tx.execute("INSERT INTO pulse VALUES (:name, :at)", name=name, at=NOW)


@pytest.mark.of_files
async def test_nothing_is_written_where_only_reading_is_meant(database: Database) -> None:
    async def write(tx: Transaction) -> int:
        return await tx.execute("INSERT INTO pulse VALUES ('x', :at)", at=NOW)

    with pytest.raises(StorageTrouble):
        await database.read(write)
    assert await database.read(_names) == []


async def _names(tx: Transaction) -> list[str]:
    return [row["name"] for row in await tx.all("SELECT name FROM pulse ORDER BY name")]


async def test_reading_that_is_cancelled_leaves_the_way_free(database: Database) -> None:
    async def read_for_ever() -> None:
        while True:
            await database.read(_names)

    for steps in range(40):
        task = asyncio.create_task(read_for_ever())
        for _ in range(steps):
            await asyncio.sleep(0)
        task.cancel()
        await asyncio.gather(task, return_exceptions=True)
    await _write(database, "after")
    assert await database.read(_names) == ["after"]


@pytest.mark.of_files
async def test_whoever_reads_aside_waits_for_nothing_else(database: Database) -> None:
    async def wait(_: Transaction) -> None:
        await asyncio.sleep(0)

    with pytest.raises(RuntimeError, match="wait for anything else"):
        await database.read(wait)
    assert await database.read(_names) == []


async def test_a_long_row_of_transactions_lets_everybody_else_be_heard(database: Database) -> None:
    heard = asyncio.Event()
    asyncio.get_running_loop().call_soon(heard.set)
    for number in range(2):
        assert heard.is_set() == (number > 0)
        async with database.transaction() as tx:
            await tx.execute("INSERT INTO pulse VALUES (:name, :at)", name=str(number), at=NOW)


async def test_a_slow_disk_is_waited_for_in_the_thread(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Three slow commits in a row are a slow disk; after a while it's tried in place again."""
    seconds, aside = 0.0, list[int]()

    def moment() -> float:
        nonlocal seconds
        seconds += SLOW_SECONDS
        return seconds * 1.5

    async with connect(tmp_path / "file") as engine:
        in_thread = engine.connection.commit

        async def commit() -> None:
            aside.append(number)
            await in_thread()

        monkeypatch.setattr("bot.storage.sqlite.monotonic", moment)
        monkeypatch.setattr(engine.connection, "commit", commit)
        await engine.change("CREATE TABLE one (a INTEGER)")
        last = SLOW_IN_A_ROW + PATIENT_COMMITS + 1
        for number in range(1, last + 1):
            for lasting in (True, False):  # those that aren't waited for say nothing of the disk
                await engine.begin(lasting=lasting)
                await engine.run("INSERT INTO one VALUES (:a)", {"a": number})
                await engine.commit()
    assert aside == list(range(SLOW_IN_A_ROW + 1, last))
    with sqlite3.connect(tmp_path / "file") as connection:
        assert connection.execute("SELECT count(*) FROM one").fetchone() == (2 * last,)
    connection.close()


async def test_waking_comes_after_the_commit(database: Database) -> None:
    event = database.woken("work")
    async with database.transaction() as tx:
        tx.wake("work")
        assert not event.is_set()
    assert event.is_set()


async def test_file_and_log_are_private(tmp_path: Path) -> None:
    path = tmp_path / "private.sqlite3"
    path.touch(mode=0o644)
    async with open_database(path) as database, database.transaction() as tx:
        await tx.execute("INSERT INTO pulse VALUES ('x', :at)", at=NOW)
    async with open_database(path):
        modes = {file.name: file.stat().st_mode & 0o777 for file in tmp_path.iterdir()}
    assert modes == {path.name + suffix: 0o600 for suffix in ("", "-wal", "-shm")}


@pytest.mark.of_files
async def test_the_pragmas_are_in_force(database: Database) -> None:
    async with database.transaction() as tx:
        assert await tx.value("PRAGMA journal_mode") == "wal"
        assert await tx.value("PRAGMA synchronous") == 2
        assert await tx.value("PRAGMA foreign_keys") == 1
        assert await tx.value("PRAGMA trusted_schema") == 0
        assert await tx.value("PRAGMA busy_timeout") == 0


@pytest.mark.of_files
async def test_only_what_must_last_waits_for_the_disk(database: Database) -> None:
    """1 is NORMAL and 2 is FULL (SQLite, "PRAGMA synchronous"): without and with an fsync each."""
    for lasting in (False, True, True, False, False, True):
        async with database.transaction(lasting=lasting) as tx:
            assert await tx.value("PRAGMA synchronous") == (2 if lasting else 1)


async def upgraded(path: Path, *scripts: Script) -> list[tuple[int, str]]:
    """Upgrade a file with these scripts; returns its versions and its tables."""
    async with connect(path) as engine:
        await upgrade(engine, NOW, scripts)
    return what_is_in(path)


def what_is_in(path: Path) -> list[tuple[int, str]]:
    with sqlite3.connect(path) as connection:
        versions = connection.execute("SELECT number, name FROM schema_version").fetchall()
    connection.close()
    return [(number, name) for number, name in versions]


async def test_a_fresh_file_and_an_old_one_end_up_the_same(tmp_path: Path) -> None:
    old = tmp_path / "old"
    assert await upgraded(old, ONE) == [(1, "001_one.sql")]
    both = [(1, "001_one.sql"), (2, "002_two.sql")]
    assert await upgraded(old, ONE, TWO) == both
    assert await upgraded(tmp_path / "fresh", ONE, TWO) == both
    assert await upgraded(old, ONE, TWO) == both


@pytest.mark.parametrize("bad", [BROKEN, UNFINISHED])
async def test_a_failing_script_leaves_the_file_as_it_was(tmp_path: Path, bad: Script) -> None:
    path = tmp_path / "file"
    await upgraded(path, ONE)
    with pytest.raises(sqlite3.OperationalError):
        await upgraded(path, ONE, bad)
    assert what_is_in(path) == [(1, "001_one.sql")]
    assert await upgraded(path, ONE, TWO) == [(1, "001_one.sql"), (2, "002_two.sql")]


async def test_a_file_from_a_newer_program_is_refused_untouched(tmp_path: Path) -> None:
    path = tmp_path / "newer"
    async with open_database(path, FixedClock()) as database, database.transaction() as tx:
        await tx.execute("INSERT INTO schema_version VALUES (999, '999_later.sql', :at)", at=NOW)
    with pytest.raises(DatabaseTooNew) as refusal:
        async with open_database(path):
            pass
    assert (refusal.value.found, refusal.value.known) == (999, newest_known())


def test_each_number_belongs_to_one_script() -> None:
    numbers = [script.number for script in known_scripts()]
    assert numbers == sorted(set(numbers))
    assert numbers[0] == 1


async def test_what_is_no_database_is_refused_and_left_alone(tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_text("shopping list\n" * 100)
    with pytest.raises(BadInput, match=r"notes\.txt"):
        async with open_database(tmp_path / "notes.txt"):
            pass
    assert (tmp_path / "notes.txt").read_text().startswith("shopping list")
    with pytest.raises(BadInput, match="nowhere"):
        async with open_database(tmp_path / "nowhere" / "db"):
            pass
