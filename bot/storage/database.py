"""The one file everything is kept in, and the one way to open a transaction."""

import asyncio
import os
import sqlite3
from collections.abc import AsyncGenerator
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any, TypeAlias

import aiosqlite

from bot.clock import Clock, SystemClock
from bot.errors import BadInput, Problem
from bot.storage.moments import write_moment
from bot.storage.upgrade import known_scripts, upgrade

Row: TypeAlias = aiosqlite.Row

PRAGMAS = (
    "journal_mode = WAL",
    "synchronous = FULL",  # the chat API is told "received" on the strength of a commit
    "foreign_keys = ON",
    "busy_timeout = 5000",  # milliseconds; a backup may be reading
    "trusted_schema = OFF",
    "secure_delete = ON",  # what is deleted is overwritten; the rest is swept
)


class Transaction:
    """What storage functions need to do anything. Named parameters only."""

    def __init__(self, connection: aiosqlite.Connection) -> None:
        self._connection = connection
        self.wakes: set[str] = set()

    async def execute(self, sql: str, /, **named: object) -> int:
        """Run one statement; says how many rows it changed."""
        return (await self._connection.execute(sql, named)).rowcount

    async def all(self, sql: str, /, **named: object) -> list[Row]:
        """Every row of the answer, also of a RETURNING."""
        return list(await self._connection.execute_fetchall(sql, named))

    async def one(self, sql: str, /, **named: object) -> Row | None:
        """The first row, or None when there is none."""
        rows = await self.all(sql, **named)
        return rows[0] if rows else None

    async def value(self, sql: str, /, **named: object) -> Any:
        """The first column of the first row, or None when there is none."""
        row = await self.one(sql, **named)
        return None if row is None else row[0]

    def wake(self, name: str) -> None:
        """Wake whoever waits for this kind of work, once the transaction is over."""
        self.wakes.add(name)


class Database:
    """An open database."""

    def __init__(self, connection: aiosqlite.Connection) -> None:
        self._connection = connection
        self._turn = asyncio.Lock()  # one writer at a time
        self._holder: asyncio.Task[Any] | None = None
        self._events: dict[str, asyncio.Event] = {}

    def woken(self, name: str) -> asyncio.Event:
        """The event that `Transaction.wake` sets. Clear it before looking for work, not after."""
        return self._events.setdefault(name, asyncio.Event())

    @asynccontextmanager
    async def transaction(self) -> AsyncGenerator[Transaction]:
        """All of it or none of it, also when the task is cancelled halfway.

        Never await the chat API in here: everybody else waits for this turn.
        """
        if self._holder is not None and self._holder is asyncio.current_task():
            raise RuntimeError("a transaction inside a transaction; pass the outer one on")
        async with self._turn:
            self._holder = asyncio.current_task()
            transaction = Transaction(self._connection)
            try:
                # inside the try, since cancellation can land on this line too
                await self._connection.execute("BEGIN IMMEDIATE")
                yield transaction
                await self._connection.commit()
            except BaseException:
                await asyncio.shield(self._connection.rollback())
                raise
            finally:
                self._holder = None
                # also after a failure: a commit that was cancelled while it ran has happened
                for name in transaction.wakes:
                    self.woken(name).set()

    async def tidy(self) -> None:
        """Let SQLite refresh what its query planner knows; meant for once a day."""
        async with self._turn:
            await self._connection.execute("PRAGMA optimize")

    async def sweep(self) -> bool:
        """Write the file anew without what was deleted; false if a reader was in the way."""
        async with self._turn:
            await self._connection.execute("VACUUM")
            rows = await self._connection.execute_fetchall("PRAGMA wal_checkpoint(TRUNCATE)")
            busy: int = next(iter(rows))[0]
            return busy == 0


@asynccontextmanager
async def open_database(path: Path, clock: Clock | None = None) -> AsyncGenerator[Database]:
    """Open the file, for its owner's eyes only, upgrade it, and close it whatever happens.

    Raises BadInput for a place that can't be written or a file that isn't a database, and
    DatabaseTooNew for one that a newer program wrote.
    """
    try:
        _make_private(path)
    except OSError as error:
        raise _refusal(path, error.strerror or type(error).__name__) from None
    connection = await aiosqlite.connect(path, isolation_level=None)
    try:
        connection.row_factory = aiosqlite.Row
        await _set_up(connection, path)
        now = (clock or SystemClock()).now()
        await upgrade(connection, write_moment(now), known_scripts())
        yield Database(connection)
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
