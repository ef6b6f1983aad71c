"""A second connection to the file: it reads what is committed while others write."""

from collections.abc import AsyncGenerator
from contextlib import asynccontextmanager
from pathlib import Path

from bot.storage.database import Named, Row
from bot.storage.sqlite import Sqlite, connected

PRAGMAS = ("query_only = ON", "trusted_schema = OFF")


class SqliteReader(Sqlite):
    """All that it does, it does in the thread of its connection, for it reads thousands of rows.

    What it sees stays as it was when it began, whatever is committed meanwhile.
    """

    async def begin(self) -> None:
        """Begin to read; who writes goes on."""
        await self.connection.execute("BEGIN")

    async def commit(self) -> None:
        """Let go of what was seen."""
        await self.connection.commit()

    async def run(self, sql: str, named: Named) -> int:
        """Run one statement; the file takes none that writes."""
        return (await self.connection.execute(sql, dict(named))).rowcount

    async def fetch(self, sql: str, named: Named) -> list[Row]:
        """Run one statement; every row of its answer."""
        return list(await self.connection.execute_fetchall(sql, dict(named)))


@asynccontextmanager
async def open_reader(path: Path) -> AsyncGenerator[SqliteReader]:
    """Open a file that is open already, and close it whatever happens."""
    async with connected(path, SqliteReader) as reader:
        for pragma in PRAGMAS:
            await reader.change(f"PRAGMA {pragma}")
        yield reader
