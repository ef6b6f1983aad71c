"""What is asked of the database in a week finds its rows by an index."""

import re
import sqlite3
from contextlib import closing

import pytest

from bot.storage.database import Row, Transaction
from tests.journeys.evening import STARTS, WEEK, Evening

GROWING = frozenset(
    {
        "advice", "alert", "answer", "attendance", "due", "estimate", "inbox", "membership",
        "note", "outbox", "person", "plan", "prompt", "session", "summary", "symptom", "verdict",
    }
)  # fmt: skip
"""Tables that grow with people, groups and classes."""
SCRIPT = "SELECT sql FROM sqlite_master WHERE sql IS NOT NULL AND name NOT LIKE 'sqlite%'"
READ_WHOLE = re.compile(r"SCAN (\w+)(?: USING (?:COVERING )?INDEX (\w+))?")
OF_SOME_ROWS = """SELECT name FROM sqlite_master WHERE type = 'index' AND sql LIKE '% WHERE %'"""
"""Indices of what is still open, which are short."""
ONCE_A_DAY = re.compile(r"DELETE FROM (inbox|outbox|advice|substitute) WHERE \w+ < :before")
"""What sweeps old things out, and may look at all of them."""


@pytest.fixture
def statements(monkeypatch: pytest.MonkeyPatch) -> dict[str, tuple[str, ...]]:
    """Every statement that was run, with the names of its values."""
    found: dict[str, tuple[str, ...]] = {}
    execute, fetch = Transaction.execute, Transaction.all

    async def noted_execute(self: Transaction, sql: str, /, **named: object) -> int:
        found[sql] = tuple(named)
        return await execute(self, sql, **named)

    async def noted_all(self: Transaction, sql: str, /, **named: object) -> list[Row]:
        found[sql] = tuple(named)
        return await fetch(self, sql, **named)

    monkeypatch.setattr(Transaction, "execute", noted_execute)
    monkeypatch.setattr(Transaction, "all", noted_all)
    return found


async def a_week(evening: Evening) -> None:
    """Digest, class, prompts, answers, alerts, a reminder, the summary, and what people ask for."""
    ana, ben = evening.members["Ana"], evening.members["Ben"]
    await evening.leap(STARTS)
    await evening.say(ana, "/variant")
    await evening.class_is_over()
    await evening.answer_all(ana, c=10, h="pain")
    await evening.say(ben, "8, side plank 9")
    for command in ("/variant", "/progress", "/scale", "/hurt", "/pause", "/settings", "/mydata"):
        await evening.say(ana, command)
    for command in ("/digest", "/people", "/attendance", "/classes", "/plan", "/limits", "/export"):
        await evening.say(evening.instructor, command)
    for hours in (1, 14, 24, 48):
        await evening.leap(STARTS + hours * (WEEK / 7 / 24))
    await evening.leap(STARTS + WEEK)


async def test_no_growing_table_is_read_whole(
    evening: Evening, statements: dict[str, tuple[str, ...]]
) -> None:
    await a_week(evening)
    assert len(statements) > 100, "most of what is asked was not noted"
    read_whole = []
    with closing(sqlite3.connect(":memory:")) as connection:
        for (sql,) in evening.rows(SCRIPT):  # without what the planner learns of small tables
            connection.execute(str(sql))
        short = {name for (name,) in connection.execute(OF_SOME_ROWS)}
        for sql, names in statements.items():
            for *_, step in connection.execute(f"EXPLAIN QUERY PLAN {sql}", dict.fromkeys(names)):
                found = READ_WHOLE.match(step)
                if found is None or found[2] in short or ONCE_A_DAY.search(sql):
                    continue
                if of_table(sql, found[1]) in GROWING:
                    read_whole.append((step, sql))
    assert read_whole == []


def of_table(sql: str, name: str) -> str:
    """The table that is called so in this statement."""
    found = re.search(rf"\b(\w+) AS {name}\b", sql)
    return name if found is None else found[1]
