"""What is remembered of a history is what is stored, whoever has written to it since."""

import gc
import re
from contextlib import suppress
from pathlib import Path

import pytest

from bot.storage.database import Database, Row, Transaction, open_database
from bot.storage.erasure import erase_person
from bot.storage.history import reports_of_group
from bot.storage.remembered import forget_histories
from bot.storage.sqlite import connect
from bot.storage.upgrade import upgrade
from core.reports import Bout, SessionRating
from tests.fixed_clock import FixedClock
from tests.house.paths import dotted, modules
from tests.reading_anew import misread
from tests.storage.changes import CHANGES, CLASSES, call_it_hard, note_absence, scene_in
from tests.storage.filled import MOMENT, scripts_up_to

BEFORE = 18
"""The version without editions."""
WRITTEN = ("prompt", "answer", "attendance", "verdict")
"""What a history is read from, besides the classes themselves."""
WRITES = re.compile(rf"(?:INSERT INTO|UPDATE|DELETE FROM) (?:{'|'.join(WRITTEN)})\b")


def test_whoever_writes_what_is_said_knows_of_editions() -> None:
    writers = [path for path in modules("bot") if WRITES.search(path.read_text())]
    assert len(writers) > len(WRITTEN), "some write to several tables"
    strangers = [dotted(path) for path in writers if "storage.editions" not in path.read_text()]
    assert strangers == []


async def test_whatever_changes_is_read_at_once(
    database: Database, monkeypatch: pytest.MonkeyPatch
) -> None:
    # whoever reads in a thread may remember an erased member just after all was forgotten
    monkeypatch.setattr("bot.storage.erasure.forget_histories", lambda: None)
    async with database.transaction() as tx:
        scene = await scene_in(tx)
    for change in CHANGES:
        async with database.transaction() as tx:
            before = await scene.read(tx)
            await change(tx, scene)
            everyones, mine = await scene.read(tx)
            assert everyones != before[0], change.__name__
            assert mine != before[1], change.__name__
            assert await misread(tx) == [], change.__name__
        assert await database.read(misread) == [], change.__name__


async def test_of_who_was_erased_nothing_is_remembered(database: Database) -> None:
    def in_memory() -> set[str]:
        return {each.member for each in gc.get_objects() if type(each) in (Bout, SessionRating)}

    async with database.transaction() as tx:
        scene = await scene_in(tx)
        await scene.read(tx)
        assert scene.ana.id in in_memory()
        await erase_person(tx, scene.ana, scene.held[-1].ends_at)
        await scene.read(tx)
    assert in_memory() != set()
    assert scene.ana.id not in in_memory()


async def test_what_was_undone_is_not_remembered(database: Database) -> None:
    async with database.transaction() as tx:
        scene = await scene_in(tx)
    for first, second in ((7.0, 8.0), (9.0, 10.0)):
        with suppress(ZeroDivisionError):
            async with database.transaction() as tx:
                await scene.say(tx, first)
                await scene.read(tx)
                raise ZeroDivisionError
        async with database.transaction() as tx:
            await scene.say(tx, second)
            _, mine = await scene.read(tx)
            assert mine.ratings[-1].effort == second
            assert await misread(tx) == []


async def test_no_database_is_taken_for_another(tmp_path: Path) -> None:
    efforts = []
    for name, effort in (("one", 7.0), ("other", 8.0)):
        async with open_database(tmp_path / name) as database, database.transaction() as tx:
            scene = await scene_in(tx)
            await scene.say(tx, effort)
            _, mine = await scene.read(tx)
            efforts.append(mine.ratings[-1].effort)
            assert await misread(tx) == []
    assert efforts == [7.0, 8.0]


async def test_only_what_has_changed_is_fetched(
    database: Database, monkeypatch: pytest.MonkeyPatch
) -> None:
    fetched: list[str] = []
    fetch = Transaction.all

    async def noting(self: Transaction, sql: str, /, **named: object) -> list[Row]:
        rows = await fetch(self, sql, **named)
        fetched.extend("answer" for _ in rows if "SELECT answer.*" in sql)
        return rows

    async with database.transaction() as tx:
        scene = await scene_in(tx)
        monkeypatch.setattr(Transaction, "all", noting)
        forget_histories()
        await reports_of_group(tx, scene.group)
        anew = len(fetched)
        fetched.clear()
        await scene.read(tx)
        assert fetched == []
        await scene.say(tx, 8.0)
        await scene.read(tx)
        assert 0 < len(fetched) <= 3 * anew / CLASSES, "the last class, and Ana's part of it"


async def test_a_filled_database_is_read_as_before(tmp_path: Path, noon: FixedClock) -> None:
    async with open_database(tmp_path / "new", noon) as database, database.transaction() as tx:
        scene = await scene_in(tx)
        await note_absence(tx, scene)
        await call_it_hard(tx, scene)
        expected = await scene.read(tx)
        tables = ("person", "training_group", "plan", "membership", "session", "prompt", "answer")
        stored = {
            table: [
                {name: row[name] for name in row.keys() if name != "edition"}  # noqa: SIM118
                for row in await tx.all(f"SELECT * FROM {table}")  # noqa: S608
            ]
            for table in (*tables, "attendance", "verdict")
        }
    async with connect(tmp_path / "old") as engine:
        await upgrade(engine, MOMENT, scripts_up_to(BEFORE))
        await engine.change("PRAGMA foreign_keys = OFF")
        for table, rows in stored.items():
            for row in rows:
                marks = ", ".join(f":{name}" for name in row)
                await engine.run(f"INSERT INTO {table} ({', '.join(row)}) VALUES ({marks})", row)  # noqa: S608
    async with open_database(tmp_path / "old", noon) as database, database.transaction() as tx:
        assert await scene.read(tx) == expected
        assert await misread(tx) == []
        assert await scene.read(tx) == expected
