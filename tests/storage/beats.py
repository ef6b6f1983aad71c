"""A small thing to write and to read, and what is told when that fails."""

import pytest

from bot.storage.database import Database
from bot.storage.pulse import note_beat
from tests.fixed_clock import NOON


async def write(database: Database, name: str = "beat") -> None:
    """One row, in a transaction of its own."""
    async with database.transaction() as tx:
        await note_beat(tx, name, NOON)


async def read(database: Database) -> object:
    """How many rows there are."""
    async with database.transaction() as tx:
        return await tx.value("SELECT count(*) FROM pulse")


def told(caplog: pytest.LogCaptureFixture) -> list[tuple[str, str]]:
    """What the database has logged, with the trouble that it met."""
    found = [each for each in caplog.records if each.name == "bot.storage.database"]
    return [(each.message, str(vars(each)["fields"]["trouble"])) for each in found]
