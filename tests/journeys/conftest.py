"""A stage for whole stories, which looks after every story whether all was proper."""

from collections.abc import AsyncGenerator, Callable
from contextlib import AbstractAsyncContextManager, asynccontextmanager
from datetime import datetime
from pathlib import Path

import pytest

from bot.house import Pace
from bot.place import Place, Server
from demo_script.theatre import DEMO_PACE, Theatre, open_theatre
from tests.conftest import POSTGRESQL, UPGRADED
from tests.demo_script.method_models import check_request
from tests.journeys.evening import MONDAY, Evening
from tests.journeys.prepared import FILE, Prepared, prepare
from tests.reading_anew import misread

Stage = Callable[..., AbstractAsyncContextManager[Evening]]


@pytest.fixture(autouse=True)
def _drawn_by_one(monkeypatch: pytest.MonkeyPatch) -> None:
    """Stories share the process that draws: to start one takes longer than most of them."""

    async def nothing() -> None:
        pass

    monkeypatch.setattr("bot.inside.end_drawing", nothing)


@asynccontextmanager
async def open_stage(
    folder: Path,
    start: datetime = MONDAY,
    pace: Pace = DEMO_PACE,
    put_up: Callable[[Theatre, Path], Evening] | None = None,
    server: Server | None = None,
) -> AsyncGenerator[Evening]:
    """The bot on an empty database; afterwards no request was improper and no update given up."""
    async with open_theatre(
        folder, start, validator=check_request, pace=pace, server=server
    ) as theatre:
        evening = (put_up or _empty)(theatre, folder / FILE)
        evening.server = server
        yield evening
        await evening.settle()
        async with theatre.house.database.transaction() as tx:
            assert await misread(tx) == []
    assert theatre.api.invalid == []
    assert theatre.api.violations == 0
    assert evening.rows("SELECT problem FROM inbox WHERE parked_at IS NOT NULL") == []
    assert evening.rows("SELECT id, reason FROM outbox WHERE state = 'failed'") == []


def _empty(theatre: Theatre, file: Path) -> Evening:
    return Evening(theatre=theatre, file=file, instructor=theatre.api.person("Ines"))


@pytest.fixture
async def stage(tmp_path: Path, place: Place) -> AsyncGenerator[Evening]:
    """An unclaimed bot on a Monday."""
    async with open_stage(tmp_path, server=None if isinstance(place, Path) else place) as evening:
        yield evening


_PREPARED: list[Prepared] = []
"""What was played once in this process; it takes longer than most tests."""


async def _three_have_joined(evening: Evening) -> None:
    await evening.found()
    await evening.join("Ana", "Ben", "Cleo")


@pytest.fixture
async def evening(
    tmp_path: Path,
    tmp_path_factory: pytest.TempPathFactory,
    engine: str,
    request: pytest.FixtureRequest,
) -> AsyncGenerator[Evening]:
    """A group that meets on Thursdays, with three members, before its first class."""
    local = request.getfixturevalue("upgraded_server") if engine == POSTGRESQL else None
    if not _PREPARED:
        first = None if local is None else local.make(UPGRADED)
        async with open_stage(tmp_path_factory.mktemp("once"), server=first) as once:
            prepared = await prepare(once, _three_have_joined)
        _PREPARED.append(prepared)
    prepared = _PREPARED[0]
    server = None if local is None or prepared.server is None else local.make(prepared.server.name)
    if server is None:
        prepared.write(tmp_path)
    async with open_stage(
        tmp_path, prepared.moment, put_up=prepared.put_up, server=server
    ) as evening:
        yield evening
    if local is not None and server is not None:
        local.drop(server)
