"""Whatever version a filled database is of, an upgrade keeps all of it, or changes nothing."""

import asyncio
import os
import sqlite3
import sys
import time
from contextlib import closing, suppress
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from bot.errors import Broken, StorageTrouble
from bot.storage.before_upgrade import KEEP, copy_of, forget_before_upgrade
from bot.storage.copying import check
from bot.storage.database import open_database
from bot.storage.sqlite import connect
from bot.storage.upgrade import Script, known_scripts, upgrade
from tests.fixed_clock import FixedClock
from tests.storage.filled import MOMENT, contents, faults, filled, scripts_up_to

ROOT = Path(__file__).parents[2]
VERSIONS = [script.number for script in known_scripts()]


def versions(path: Path) -> list[int]:
    with closing(sqlite3.connect(path)) as connection:
        return [row[0] for row in connection.execute("SELECT number FROM schema_version")]


@pytest.mark.parametrize("version", VERSIONS)
async def test_nothing_of_a_filled_database_is_lost(tmp_path: Path, version: int) -> None:
    path = tmp_path / "file"
    before = await filled(path, version)
    assert all(before.values()), "a table without a row says nothing"
    async with open_database(path, FixedClock()):
        pass
    assert versions(path) == VERSIONS
    assert faults(path) == []
    after = contents(path)
    for table, rows in before.items():
        kept = [{name: row[name] for name in rows[0]} for row in after[table]]
        assert kept == rows, table


async def test_the_file_from_before_lies_beside_it_for_a_week(tmp_path: Path) -> None:
    path = tmp_path / "file"
    before = await filled(path, 1)
    async with open_database(path, FixedClock()):
        pass
    kept = copy_of(path)
    check(kept)
    assert contents(kept) == before
    assert kept.stat().st_mode & 0o777 == 0o600
    made = datetime.fromtimestamp(kept.stat().st_mtime, UTC)
    assert not forget_before_upgrade(path, made + KEEP - timedelta(seconds=1))
    assert forget_before_upgrade(path, made + KEEP)
    assert not kept.exists()


async def test_a_new_file_and_one_that_is_up_to_date_are_not_copied(tmp_path: Path) -> None:
    for _ in range(2):
        async with open_database(tmp_path / "file"):
            pass
    assert not copy_of(tmp_path / "file").exists()


async def test_without_a_copy_there_is_no_upgrade(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "file"
    before = await filled(path, 1)
    full = sqlite3.OperationalError("database or disk is full")
    full.sqlite_errorcode = sqlite3.SQLITE_FULL

    def no_room(*_: object) -> None:
        raise full

    monkeypatch.setattr("bot.storage.copying.open_plain", no_room)
    with pytest.raises(StorageTrouble):
        async with open_database(path):
            pass
    assert versions(path) == [1]
    assert contents(path) == before


async def test_an_upgrade_that_would_leave_rows_that_point_nowhere_is_undone(
    tmp_path: Path,
) -> None:
    path = tmp_path / "file"
    before = await filled(path, 2)
    bad = Script(
        number=3,
        name="003_bad.sql",
        sql="ALTER TABLE leading ADD COLUMN x TEXT REFERENCES person (id);\n"
        "UPDATE leading SET x = NULL;\nDELETE FROM pulse;\n",
    )
    worse = Script(number=4, name="004_worse.sql", sql="UPDATE leading SET x = 'nobody';\n")
    async with connect(path) as engine:
        with pytest.raises(Broken):
            await upgrade(engine, MOMENT, (*scripts_up_to(2), bad, worse))
    assert versions(path) == [1, 2]
    assert contents(path) == before


UPGRADER = """
import asyncio, sys
from pathlib import Path
from bot.storage.database import open_database
async def main():
    print("begins", flush=True)
    async with open_database(Path(sys.argv[1])):
        print("done", flush=True)
asyncio.run(main())
"""
KILLS = 6


async def upgrading(path: Path) -> asyncio.subprocess.Process:
    """A process that is just about to open and upgrade this file."""
    process = await asyncio.create_subprocess_exec(
        sys.executable, "-c", UPGRADER, str(path),
        stdout=asyncio.subprocess.PIPE, env={**os.environ, "PYTHONPATH": str(ROOT)},
    )  # fmt: skip
    assert process.stdout is not None
    assert await process.stdout.readline() == b"begins\n"
    return process


async def test_a_kill_in_the_middle_leaves_the_old_or_the_new(tmp_path: Path) -> None:
    await filled(tmp_path / "whole", 1)
    process, began = await upgrading(tmp_path / "whole"), time.monotonic()
    assert await process.wait() == 0
    took, found = time.monotonic() - began, set[tuple[int, ...]]()
    for kill in range(KILLS):
        path = tmp_path / f"file {kill}"
        before = await filled(path, 1)
        process = await upgrading(path)
        await asyncio.sleep(took * kill / KILLS)
        with suppress(ProcessLookupError):  # on some computers the last one is done by then
            process.kill()
        await process.wait()
        found.add(tuple(versions(path)))
        assert faults(path) == []
        async with open_database(path, FixedClock()):
            pass
        assert versions(path) == VERSIONS
        after = {table: len(rows) for table, rows in contents(path).items() if table in before}
        assert after == {table: len(rows) for table, rows in before.items()}
    assert (1,) in found, "no kill came before the end: the test says nothing"
    assert found <= {(1,), tuple(VERSIONS)}


async def test_classes_changed_by_hand_before_stay_as_they_were_made(tmp_path: Path) -> None:
    """What was moved or cancelled before is left alone by the timetable, as it was then."""
    path = tmp_path / "file"
    await filled(path, 8)
    with closing(sqlite3.connect(path)) as connection, connection:
        connection.execute("UPDATE session SET moved_at = NULL, cancelled_at = NULL")
        connection.execute(
            """INSERT INTO session
                (id, group_id, plan_id, slot, starts_at, ends_at, local_day, moved_at, cancelled_at)
            SELECT 'moved' || id, group_id, plan_id, slot || '/1', starts_at, ends_at, local_day,
                '2026-03-01T10:00:00Z', NULL FROM session
            UNION ALL
            SELECT 'off' || id, group_id, plan_id, slot || '/2', starts_at, ends_at, local_day,
                '2026-03-01T10:00:00Z', '2026-03-01T11:00:00Z' FROM session"""
        )
    async with open_database(path, FixedClock()):
        pass
    with closing(sqlite3.connect(path)) as connection:
        found = connection.execute("SELECT slot, by_hand_at, event FROM session").fetchall()
    assert {(slot[-2:] if "/" in slot else "", at, event) for slot, at, event in found} == {
        ("", None, None),
        ("/1", "2026-03-01T10:00:00Z", None),
        ("/2", "2026-03-01T11:00:00Z", None),
    }
