"""A second connection to the file: it reads what is committed while others write."""

import sqlite3
from collections.abc import AsyncGenerator, Coroutine
from contextlib import asynccontextmanager
from functools import partial
from pathlib import Path
from typing import Any, TypeVar

from bot.errors import Trouble
from bot.storage.database import Named, Reading, Row, Transaction
from bot.storage.sqlite import bare_connection
from bot.storage.trouble import trouble_of
from bot.tasks import aside

T = TypeVar("T")

PRAGMAS = ("query_only = ON", "trusted_schema = OFF", "cache_size = -512")


class SqliteReader:
    """Reads in the thread where things are worked out.

    Two threads that are at work keep each other waiting for every row. What is seen stays as it
    was when that began, whatever is committed meanwhile.
    """

    def __init__(self, file: sqlite3.Connection) -> None:
        self._file = file

    async def read(self, reading: Reading[T]) -> T:
        """What this reads, all of it as of one moment."""
        return await aside(self._read, reading)

    def _read(self, reading: Reading[T]) -> T:
        self._file.execute("BEGIN")
        try:
            return _at_once(reading(Transaction(self)))
        finally:
            self._file.execute("ROLLBACK")

    async def run(self, sql: str, named: Named) -> int:
        """Run one statement; the file takes none that writes."""
        return self._file.execute(sql, named).rowcount

    async def fetch(self, sql: str, named: Named) -> list[Row]:
        """Run one statement; every row of its answer."""
        return list(self._file.execute(sql, named))

    def trouble_of(self, error: BaseException) -> Trouble | None:
        """What is the matter with the file; None if it's something else."""
        return trouble_of(error)


def _at_once(work: Coroutine[Any, Any, T]) -> T:
    """The result of work that asks the file alone, and so never waits for the loop."""
    try:
        work.send(None)
    except StopIteration as ended:
        result: T = ended.value
        return result
    work.close()
    raise RuntimeError("whoever reads must not wait for anything else")


@asynccontextmanager
async def open_reader(path: Path) -> AsyncGenerator[SqliteReader]:
    """Read a file that is open already; it is let go of once nobody reads any more."""
    file = await aside(partial(_open, path))
    try:
        yield SqliteReader(file)
    finally:
        await aside(file.close)  # after whatever somebody, who may have gone, wanted to read


def _open(path: Path) -> sqlite3.Connection:
    file = bare_connection(path)
    for pragma in PRAGMAS:
        file.execute(f"PRAGMA {pragma}")
    return file
