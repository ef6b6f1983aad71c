"""SQLite: everything in one file."""

import os
import sqlite3
from collections.abc import AsyncGenerator
from contextlib import asynccontextmanager
from pathlib import Path

import aiosqlite

from bot.clock import Clock, SystemClock
from bot.errors import BadInput, Problem, StorageTrouble, Trouble
from bot.storage.before_upgrade import keep_before_upgrade
from bot.storage.database import Named, Row
from bot.storage.moments import write_moment
from bot.storage.trouble import trouble_of
from bot.storage.upgrade import known_scripts, upgrade

PRAGMAS = (
    "journal_mode = WAL",
    "synchronous = FULL",  # the chat API is told "received" on the strength of a commit
    "foreign_keys = ON",
    "busy_timeout = 5000",  # milliseconds; a backup may be reading
    "trusted_schema = OFF",
    "secure_delete = ON",  # what is deleted is overwritten; the rest is swept
)


class Sqlite:
    """An open file as an engine."""

    def __init__(self, connection: aiosqlite.Connection) -> None:
        connection.row_factory = aiosqlite.Row
        self.connection = connection

    async def begin(self) -> None:
        """Open a transaction in which nobody else writes."""
        await self.connection.execute("BEGIN IMMEDIATE")

    async def commit(self) -> None:
        """Keep what was done since."""
        await self.connection.commit()

    async def rollback(self) -> None:
        """Undo what was done since."""
        await self.connection.rollback()

    async def run(self, sql: str, named: Named) -> int:
        """Run one statement; says how many rows it changed."""
        return (await self.connection.execute(sql, named)).rowcount

    async def fetch(self, sql: str, named: Named) -> list[Row]:
        """Run one statement; every row of its answer."""
        return list(await self.connection.execute_fetchall(sql, named))

    @property
    def writes(self) -> int:
        """How many rows were ever changed."""
        return self.connection.total_changes

    def trouble_of(self, error: BaseException) -> Trouble | None:
        """What is the matter with the file; None if it's something else."""
        return trouble_of(error)

    async def change(self, statement: str) -> None:
        """Run one statement of a script."""
        # one by one: executescript would commit the open transaction before it begins
        await self.connection.execute(statement)

    async def points_nowhere(self) -> bool:
        """Whether a script has left rows that refer to rows that aren't there."""
        return bool(list(await self.connection.execute_fetchall("PRAGMA foreign_key_check")))

    async def tidy(self) -> None:
        """Refresh what the query planner knows."""
        await self.connection.execute("PRAGMA optimize")

    async def sweep(self) -> bool:
        """Write the file anew without what was deleted; false if a reader was in the way."""
        await self.connection.execute("VACUUM")
        rows = await self.connection.execute_fetchall("PRAGMA wal_checkpoint(TRUNCATE)")
        busy: int = next(iter(rows))[0]
        return busy == 0


@asynccontextmanager
async def open_file(path: Path, clock: Clock | None = None) -> AsyncGenerator[Sqlite]:
    """Open the file, for its owner's eyes only, upgrade it, and close it whatever happens.

    Raises BadInput for a place that can't be written or a file that isn't a database,
    DatabaseTooNew for one that a newer program wrote, and StorageTrouble where the disk is full,
    or somebody else holds the file.
    """
    try:
        _make_private(path)
    except OSError as error:
        raise _refusal(path, error.strerror or type(error).__name__) from None
    connection = await aiosqlite.connect(path, isolation_level=None)
    try:
        engine = Sqlite(connection)
        try:
            await _set_up(connection, path)
            now = (clock or SystemClock()).now()
            await keep_before_upgrade(engine, path)
            await upgrade(engine, write_moment(now), known_scripts())
        except sqlite3.OperationalError as error:
            trouble = trouble_of(error)
            if trouble is None:
                raise
            raise StorageTrouble(trouble) from error
        yield engine
    finally:
        await connection.close()  # an open connection would keep the process alive for ever


async def _set_up(connection: aiosqlite.Connection, path: Path) -> None:
    try:
        for pragma in PRAGMAS:
            await connection.execute(f"PRAGMA {pragma}")
    except sqlite3.DatabaseError as error:
        if error.sqlite_errorcode == sqlite3.SQLITE_NOTADB:
            raise _refusal(path, "the file is something else") from None
        raise


def _refusal(path: Path, wrong: str) -> BadInput:
    problem = Problem(where=str(path), wrong=wrong, expected="a database, or a place for one")
    return BadInput((problem,))


def _make_private(path: Path) -> None:
    os.close(os.open(path, os.O_CREAT | os.O_RDWR | os.O_CLOEXEC, 0o600))
    for suffix in ("", "-wal", "-shm"):  # the last two inherit the mode when SQLite makes them
        file = path.with_name(path.name + suffix)
        if file.exists():
            file.chmod(0o600)
