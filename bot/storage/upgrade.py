"""Brings a database up to date with numbered SQL scripts, each in one transaction."""

import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass
from importlib.resources import files

import aiosqlite

from bot.errors import DatabaseTooNew

VERSIONS = """
CREATE TABLE IF NOT EXISTS schema_version (
    number      INTEGER PRIMARY KEY,
    name        TEXT NOT NULL,
    upgraded_at TEXT NOT NULL CHECK (length(upgraded_at) = 20)
)
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Script:
    """One numbered step, such as `001_delivery.sql`."""

    number: int
    name: str
    sql: str


def known_scripts() -> tuple[Script, ...]:
    """Every script of this program, in order."""
    found = (entry for entry in files("bot.storage").joinpath("schema").iterdir())
    scripts = [
        Script(number=int(entry.name[:3]), name=entry.name, sql=entry.read_text("utf-8"))
        for entry in found
        if entry.name.endswith(".sql")
    ]
    return tuple(sorted(scripts, key=lambda script: script.number))


def newest_known() -> int:
    """The version that this program brings a database to."""
    return max((script.number for script in known_scripts()), default=0)


async def upgrade(
    connection: aiosqlite.Connection, now_text: str, scripts: tuple[Script, ...]
) -> None:
    """Run the scripts this database has not seen; refuse one newer than the program."""
    await connection.execute(VERSIONS)
    rows = await connection.execute_fetchall("SELECT max(number) FROM schema_version")
    found: int = next(iter(rows))[0] or 0
    known = max((script.number for script in scripts), default=0)
    if found > known:
        raise DatabaseTooNew(found, known)
    for script in scripts:
        if script.number > found:
            await _run(connection, script, now_text)


async def _run(connection: aiosqlite.Connection, script: Script, now_text: str) -> None:
    # not executescript: it would commit the open transaction before it begins
    await connection.execute("BEGIN IMMEDIATE")
    try:
        for statement in _statements(script.sql):
            await connection.execute(statement)
        await connection.execute(
            "INSERT INTO schema_version VALUES (:number, :name, :now)",
            {"number": script.number, "name": script.name, "now": now_text},
        )
        await connection.commit()
    except BaseException:
        await connection.rollback()
        raise


def _statements(sql: str) -> Iterator[str]:
    """Split a script at the semicolons that end a statement, not at those in text or triggers."""
    statement = ""
    for line in sql.splitlines(keepends=True):
        statement += line
        if sqlite3.complete_statement(statement):
            yield statement
            statement = ""
    if statement.strip():
        yield statement  # a closing comment, or an unfinished statement that SQLite will name
