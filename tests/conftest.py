"""What most tests need: a real database in a fresh file, and a clock that stands at noon."""

from collections.abc import AsyncGenerator
from pathlib import Path

import pytest

from bot.storage.database import Database, open_database
from tests.fixed_clock import FixedClock


@pytest.fixture
def noon() -> FixedClock:
    """A clock that stands at noon until it is pushed."""
    return FixedClock()


@pytest.fixture
async def database(tmp_path: Path, noon: FixedClock) -> AsyncGenerator[Database]:
    """An empty database of the newest version."""
    async with open_database(tmp_path / "class-effort.sqlite3", noon) as opened:
        yield opened
