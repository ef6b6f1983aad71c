"""A real SQLite database in memory that answers in place, and can be put back as it was."""

import sqlite3
import zlib
from collections.abc import Mapping
from datetime import datetime
from typing import Any, cast

import aiosqlite

from bot.storage.database import Database
from bot.storage.moments import write_moment
from bot.storage.sqlite import Sqlite
from bot.storage.upgrade import known_scripts, upgrade

PRAGMAS = (
    "page_size = 1024",  # a copy of every state is kept: half-empty pages would cost most of it
    "foreign_keys = ON",
    "trusted_schema = OFF",
    "temp_store = MEMORY",
)
BEGIN = "BEGIN IMMEDIATE"
"""As the bot's only way to open a transaction begins one."""
FASTEST = 1
"""How hard zlib tries; a database of mostly equal pages gets small all the same."""


class InlineConnection:
    """As much of an aiosqlite connection as the bot uses, without a thread of its own.

    The thread costs more than all the statements of a press; what SQLite does is the same.
    """

    def __init__(self) -> None:
        self._sqlite = sqlite3.connect(":memory:", isolation_level=None, cached_statements=512)
        self._sqlite.row_factory = sqlite3.Row
        self._marked = False
        for pragma in PRAGMAS:
            self._sqlite.execute(f"PRAGMA {pragma}")

    @property
    def total_changes(self) -> int:
        """How many rows were ever changed."""
        return self._sqlite.total_changes

    async def execute(self, sql: str, named: Mapping[str, object] | None = None) -> sqlite3.Cursor:
        """Run one statement; once all is marked, transactions are steps inside of that."""
        if self._marked and sql == BEGIN:
            sql = "SAVEPOINT step"
        return self._sqlite.execute(sql, named or {})

    async def execute_fetchall(
        self, sql: str, named: Mapping[str, object] | None = None
    ) -> list[Any]:
        """Run one statement, and return all rows of its answer."""
        return self._sqlite.execute(sql, named or {}).fetchall()

    async def commit(self) -> None:
        """End the transaction, keeping what it did."""
        self._sqlite.execute("RELEASE step" if self._marked else "COMMIT")

    async def rollback(self) -> None:
        """End the transaction as if it had never been."""
        if self._marked:
            self._sqlite.execute("ROLLBACK TO step")
            self._sqlite.execute("RELEASE step")
        elif self._sqlite.in_transaction:
            self._sqlite.execute("ROLLBACK")

    def rows(self, sql: str) -> list[tuple[object, ...]]:
        """What the database says, as plain values."""
        return [tuple(row) for row in self._sqlite.execute(sql)]

    def copy(self) -> bytes:
        """Everything in it; what was marked can't be gone back to any more."""
        if self._marked:
            self._sqlite.execute("COMMIT")
            self._marked = False
        return zlib.compress(self._sqlite.serialize(), FASTEST)

    def put_back(self, copied: bytes) -> None:
        """What was copied, in place of all that is there; and mark it."""
        if self._marked:
            self._sqlite.execute("ROLLBACK")
        self._sqlite.deserialize(zlib.decompress(copied))
        self._sqlite.execute("PRAGMA foreign_keys = ON")
        self._sqlite.execute("BEGIN")
        self._marked = True

    def back_to_mark(self) -> bool:
        """As it was when it was put back; false if that was let go of."""
        if self._marked:
            self._sqlite.execute("ROLLBACK")
            self._sqlite.execute("BEGIN")
        return self._marked

    def close(self) -> None:
        """Give the memory back."""
        self._sqlite.close()


async def open_inline(now: datetime) -> tuple[InlineConnection, Database]:
    """A new database with the bot's own schema, and the bot's own way of using it."""
    connection = InlineConnection()
    engine = Sqlite(cast("aiosqlite.Connection", connection))
    await upgrade(engine, write_moment(now), known_scripts())
    return connection, Database(engine)
