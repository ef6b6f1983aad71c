"""A real SQLite database in memory that answers in place, and can be put back as it was."""

import zlib
from datetime import datetime
from pathlib import Path
from typing import cast

import aiosqlite

from bot.storage.database import Database
from bot.storage.moments import write_moment
from bot.storage.sqlite import BEGIN, Sqlite, bare_connection
from bot.storage.upgrade import known_scripts, upgrade

PRAGMAS = (
    "page_size = 1024",  # a copy of every state is kept: half-empty pages would cost most of it
    "foreign_keys = ON",
    "trusted_schema = OFF",
    "temp_store = MEMORY",
)
FASTEST = 1
"""How hard zlib tries; a database of mostly equal pages gets small all the same."""


class Inline(Sqlite):
    """The bot's own engine on a database in memory, whose commits wait for no disk."""

    def __init__(self) -> None:
        sqlite = bare_connection(Path(":memory:"))
        super().__init__(cast("aiosqlite.Connection", None), sqlite)
        self._marked = False
        for pragma in PRAGMAS:
            sqlite.execute(f"PRAGMA {pragma}")

    async def begin(self, *, lasting: bool = True) -> None:
        """Open a transaction; once all is marked, transactions are steps inside of that."""
        self._file.execute("SAVEPOINT step" if self._marked else BEGIN)

    async def commit(self) -> None:
        """End the transaction, keeping what it did."""
        self._file.execute("RELEASE step" if self._marked else "COMMIT")

    async def rollback(self) -> None:
        """End the transaction as if it had never been."""
        if self._marked:
            self._file.execute("ROLLBACK TO step")
            self._file.execute("RELEASE step")
        elif self._file.in_transaction:
            self._file.execute("ROLLBACK")

    async def tidy(self) -> None:
        """Refresh what the query planner knows."""
        self._file.execute("PRAGMA optimize")

    def rows(self, sql: str) -> list[tuple[object, ...]]:
        """What the database says, as plain values."""
        return [tuple(row) for row in self._file.execute(sql)]

    def copy(self) -> bytes:
        """Everything in it; what was marked can't be gone back to any more."""
        if self._marked:
            self._file.execute("COMMIT")
            self._marked = False
        return zlib.compress(self._file.serialize(), FASTEST)

    def put_back(self, copied: bytes) -> None:
        """What was copied, in place of all that is there; and mark it."""
        if self._marked:
            self._file.execute("ROLLBACK")
        self._file.deserialize(zlib.decompress(copied))
        self._file.execute("PRAGMA foreign_keys = ON")
        self._file.execute("BEGIN")
        self._marked = True

    def back_to_mark(self) -> bool:
        """As it was when it was put back; false if that was let go of."""
        if self._marked:
            self._file.execute("ROLLBACK")
            self._file.execute("BEGIN")
        return self._marked

    def close(self) -> None:
        """Give the memory back."""
        self._file.close()


async def open_inline(now: datetime) -> tuple[Inline, Database]:
    """A new database with the bot's own schema, and the bot's own way of using it."""
    engine = Inline()
    await upgrade(engine, write_moment(now), known_scripts())
    return engine, Database(engine)
