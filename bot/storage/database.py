"""The one file everything is kept in, and the one way to open a transaction."""

import asyncio
import logging
import os
import sqlite3
from collections.abc import AsyncGenerator
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any, TypeAlias

import aiosqlite

from bot.clock import Clock, SystemClock
from bot.errors import BadInput, Problem, StorageTrouble, Trouble
from bot.logs import fields
from bot.storage.before_upgrade import keep_before_upgrade
from bot.storage.moments import write_moment
from bot.storage.trouble import trouble_of
from bot.storage.upgrade import known_scripts, upgrade

LOG = logging.getLogger(__name__)

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
        self._trouble: Trouble | None = None
        """What was told and isn't over yet."""

    def woken(self, name: str) -> asyncio.Event:
        """The event that `Transaction.wake` sets. Clear it before looking for work, not after."""
        return self._events.setdefault(name, asyncio.Event())

    @asynccontextmanager
    async def transaction(self) -> AsyncGenerator[Transaction]:
        """All of it or none of it, also when the task is cancelled halfway.

        Never await the chat API in here: everybody else waits for this turn. StorageTrouble when
        the file can't be used at the moment: nothing has happened, and trying later may work.
        """
        if self._holder is not None and self._holder is asyncio.current_task():
            raise RuntimeError("a transaction inside a transaction; pass the outer one on")
        async with self._turn:
            self._holder = asyncio.current_task()
            transaction = Transaction(self._connection)
            changes = self._connection.total_changes
            try:
                # inside the try, since cancellation can land on this line too
                await self._connection.execute("BEGIN IMMEDIATE")
                yield transaction
                await self._connection.commit()
                self._works_again(wrote=self._connection.total_changes > changes)
            except BaseException as error:
                await asyncio.shield(self._connection.rollback())
                trouble = trouble_of(error)
                if trouble is None:
                    raise
                self._tell(trouble)
                raise StorageTrouble(trouble) from error
            finally:
                self._holder = None
                # also after a failure: a commit that was cancelled while it ran has happened
                for name in transaction.wakes:
                    self.woken(name).set()

    def _tell(self, trouble: Trouble) -> None:
        """Once, however often it is met: everybody else only waits."""
        if trouble is not self._trouble:
            self._trouble = trouble
            LOG.error("the database can't be used", extra=fields(trouble=trouble))

    def _works_again(self, *, wrote: bool) -> None:
        """A full or read-only database still reads well, so only a write shows that it's over."""
        if self._trouble is not None and (wrote or self._trouble is Trouble.LOCKED):
            LOG.warning("the database works again", extra=fields(trouble=self._trouble))
            self._trouble = None

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
        connection.row_factory = aiosqlite.Row
        try:
            await _set_up(connection, path)
            now = (clock or SystemClock()).now()
            await keep_before_upgrade(connection, path)
            await upgrade(connection, write_moment(now), known_scripts())
        except sqlite3.OperationalError as error:
            trouble = trouble_of(error)
            if trouble is None:
                raise
            raise StorageTrouble(trouble) from error
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
