"""A stage for whole stories, which looks after every story whether all was proper."""

from collections.abc import AsyncGenerator, Callable
from contextlib import AbstractAsyncContextManager, asynccontextmanager
from datetime import datetime
from pathlib import Path

import pytest

from bot.house import Pace
from demo_script.theatre import DEMO_PACE, open_theatre
from tests.demo_script.method_models import check_request
from tests.journeys.evening import MONDAY, Evening

Stage = Callable[..., AbstractAsyncContextManager[Evening]]


@asynccontextmanager
async def open_stage(
    folder: Path, start: datetime = MONDAY, pace: Pace = DEMO_PACE
) -> AsyncGenerator[Evening]:
    """The bot on an empty database; afterwards no request was improper and no update given up."""
    async with open_theatre(folder, start, validator=check_request, pace=pace) as theatre:
        evening = Evening(
            theatre=theatre,
            file=folder / "class-effort.sqlite3",
            instructor=theatre.api.person("Ines"),
        )
        yield evening
        await evening.settle()
    assert theatre.api.invalid == []
    assert theatre.api.violations == 0
    assert evening.rows("SELECT problem FROM inbox WHERE parked_at IS NOT NULL") == []
    assert evening.rows("SELECT id, reason FROM outbox WHERE state = 'failed'") == []


@pytest.fixture
async def stage(tmp_path: Path) -> AsyncGenerator[Evening]:
    """An unclaimed bot on a Monday."""
    async with open_stage(tmp_path) as evening:
        yield evening


@pytest.fixture
async def evening(stage: Evening) -> Evening:
    """A group that meets on Thursdays, with three members, before its first class."""
    await stage.found()
    await stage.join("Ana", "Ben", "Cleo")
    return stage
