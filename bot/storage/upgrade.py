"""Brings a database up to date with numbered SQL scripts, in one transaction."""

import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass
from importlib.resources import files
from typing import Protocol

from bot.errors import Broken, DatabaseTooNew
from bot.storage.database import Engine

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


class Upgradable(Engine, Protocol):
    """An engine that can change its tables."""

    async def change(self, statement: str) -> None:
        """Run one statement of a script."""

    async def points_nowhere(self) -> bool:
        """Whether a script has left rows that refer to rows that aren't there."""


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


async def missing_in(engine: Upgradable) -> tuple[Script, ...]:
    """The scripts that a database in use hasn't seen; none for a new one, which holds nothing."""
    seen = await _seen(engine)
    return tuple(script for script in known_scripts() if seen and script.number not in seen)


async def _seen(engine: Upgradable) -> frozenset[int]:
    await engine.change(VERSIONS)
    return frozenset(row[0] for row in await engine.fetch("SELECT number FROM schema_version", {}))


async def upgrade(engine: Upgradable, now_text: str, scripts: tuple[Script, ...]) -> None:
    """Run the scripts this database has not seen; refuse one newer than the program.

    All of them or none: a database is as an old program left it, or as the new one wants it.
    """
    seen = await _seen(engine)
    found, known = max(seen, default=0), max((script.number for script in scripts), default=0)
    if found > known:
        raise DatabaseTooNew(found, known)
    missing = [script for script in scripts if script.number not in seen]
    if not missing:
        return
    await engine.begin()
    try:
        for script in missing:
            await _run(engine, script, now_text)
        if await engine.points_nowhere():
            raise Broken("an upgrade would leave rows that point nowhere")
        await engine.commit()
    except BaseException:
        await engine.rollback()
        raise


async def _run(engine: Upgradable, script: Script, now_text: str) -> None:
    for statement in _statements(script.sql):
        await engine.change(statement)
    await engine.run(
        "INSERT INTO schema_version VALUES (:number, :name, :now)",
        {"number": script.number, "name": script.name, "now": now_text},
    )


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
