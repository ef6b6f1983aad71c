"""SQLite: everything in one file."""

import asyncio
import os
import sqlite3
from collections.abc import AsyncGenerator
from contextlib import asynccontextmanager
from pathlib import Path
from time import monotonic

import aiosqlite

from bot.clock import Clock, SystemClock, give_way
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
    "trusted_schema = OFF",
    "secure_delete = ON",  # what is deleted is overwritten; the rest is swept
    "cache_size = -1024",  # KiB; what it has no place for the system keeps
)
BEGIN = "BEGIN IMMEDIATE"
PATIENCE_SECONDS = 5.0  # for somebody else's lock
STATEMENTS_KEPT = 512  # prepared; the bot has about four hundred
SLOW_SECONDS, SLOW_IN_A_ROW = 0.005, 3
"""So many lasting commits that take longer, one after the other, are those of a slow disk; now and
then a single one tidies up on a fast one, too."""
PATIENT_COMMITS = 200
"""So many are then waited for in the thread, before the next is tried in place."""


class Sqlite:
    """An open file as an engine.

    What waits for somebody else or for a slow disk does so in the thread of aiosqlite. The
    statements of an open transaction wait for nobody and take microseconds, of which the way to
    that thread and back would be most: they run in place. So do commits while the disk is fast,
    since nobody else has anything to ask of the file meanwhile.
    """

    def __init__(self, connection: aiosqlite.Connection, file: sqlite3.Connection) -> None:
        self.connection = connection
        self.patience = PATIENCE_SECONDS
        self._file = file
        self._at_begin = 0
        self._lasting = True
        self._slow = 0
        """How many of the last commits in place took long."""
        self._patient = 0
        """How many commits to come are waited for in the thread."""
        self._in_thread = False
        """Whether the thread may still be at work for somebody who was cancelled meanwhile."""

    async def begin(self, *, lasting: bool = True) -> None:
        """Open a transaction in which nobody else writes."""
        if self._in_thread:
            await self.rollback()  # it ends what it was told before
        if lasting is not self._lasting:
            self._file.execute(f"PRAGMA synchronous = {'FULL' if lasting else 'NORMAL'}")
            self._lasting = lasting
        self._at_begin = self.writes
        try:
            self._file.execute(BEGIN)
        except sqlite3.OperationalError as error:
            if trouble_of(error) is not Trouble.LOCKED:
                raise
            async with self._patiently():
                await self.connection.execute(BEGIN)

    async def commit(self) -> None:
        """Keep what was done since."""
        if self.writes == self._at_begin:
            self._file.execute("COMMIT")  # nothing goes to the disk
        elif self._lasting and self._patient > 0:
            self._patient -= 1
            self._in_thread = True
            await self.connection.commit()
            self._in_thread = False
        else:
            began = monotonic()
            self._file.execute("COMMIT")
            if self._lasting:  # the others seldom wait for the disk, and come one by one
                self._note_pace(monotonic() - began)
                await give_way()  # a long row of transactions must keep nobody from being heard

    def _note_pace(self, seconds: float) -> None:
        self._slow = self._slow + 1 if seconds > SLOW_SECONDS else 0
        if self._slow == SLOW_IN_A_ROW:
            self._slow, self._patient = 0, PATIENT_COMMITS

    async def rollback(self) -> None:
        """Undo what was done since."""
        self._in_thread = True
        await self.connection.rollback()
        self._in_thread = False

    async def run(self, sql: str, named: Named) -> int:
        """Run one statement; says how many rows it changed."""
        return self._file.execute(sql, named).rowcount

    async def fetch(self, sql: str, named: Named) -> list[Row]:
        """Run one statement; every row of its answer."""
        return list(self._file.execute(sql, named))

    @property
    def writes(self) -> int:
        """How many rows were ever changed."""
        return self._file.total_changes

    def trouble_of(self, error: BaseException) -> Trouble | None:
        """What is the matter with the file; None if it's something else."""
        return trouble_of(error)

    async def change(self, statement: str) -> None:
        """Run one statement of a script."""
        # one by one: executescript would commit the open transaction before it begins
        self._file.execute(statement)

    async def points_nowhere(self) -> bool:
        """Whether a script has left rows that refer to rows that aren't there."""
        return bool(await self.fetch("PRAGMA foreign_key_check", {}))

    async def tidy(self) -> None:
        """Refresh what the query planner knows."""
        async with self._patiently():
            await self.connection.execute_fetchall("PRAGMA optimize")

    async def sweep(self) -> bool:
        """Write the file anew without what was deleted; false if a reader was in the way."""
        async with self._patiently():
            await self.connection.execute("VACUUM")
            rows = await self.connection.execute_fetchall("PRAGMA wal_checkpoint(TRUNCATE)")
        busy: int = next(iter(rows))[0]
        return busy == 0

    @asynccontextmanager
    async def _patiently(self) -> AsyncGenerator[None]:
        """Inside, the thread waits for whoever else holds a lock; everybody here goes on."""
        await self.wait_for_locks(self.patience)
        try:
            yield
        finally:
            await asyncio.shield(self.wait_for_locks(0.0))

    async def wait_for_locks(self, seconds: float) -> None:
        """How long a statement waits, wherever it runs, while somebody else holds a lock."""
        # read to its end: a statement in progress would be in the way of the sweep
        await self.connection.execute_fetchall(f"PRAGMA busy_timeout = {1000 * seconds:.0f}")


def bare_connection(path: Path) -> sqlite3.Connection:
    """A connection as the bot uses it: for any thread, with transactions begun by hand."""
    file = sqlite3.connect(
        path,
        timeout=PATIENCE_SECONDS,
        isolation_level=None,
        check_same_thread=False,
        cached_statements=STATEMENTS_KEPT,
    )
    file.row_factory = sqlite3.Row
    return file


@asynccontextmanager
async def connect(path: Path) -> AsyncGenerator[Sqlite]:
    """Open a file as it is, and close it whatever happens."""
    file = bare_connection(path)
    connection = await aiosqlite.Connection(lambda: file, iter_chunk_size=1)
    try:
        yield Sqlite(connection, file)
    finally:
        await connection.close()  # an open connection would keep the process alive for ever


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
    async with connect(path) as engine:
        try:
            await _set_up(engine, path)
            now = (clock or SystemClock()).now()
            await keep_before_upgrade(engine, path)
            await upgrade(engine, write_moment(now), known_scripts())
            await engine.wait_for_locks(0.0)  # from here on, only the thread does
        except sqlite3.OperationalError as error:
            trouble = trouble_of(error)
            if trouble is None:
                raise
            raise StorageTrouble(trouble) from error
        yield engine


async def _set_up(engine: Sqlite, path: Path) -> None:
    try:
        for pragma in PRAGMAS:
            await engine.change(f"PRAGMA {pragma}")
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
