"""What most tests need: a real database, on either engine, and a clock that stands at noon."""

import asyncio
from collections.abc import AsyncGenerator, Generator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from bot.place import Place, Server
from bot.storage.database import Database, open_database
from tests.fixed_clock import FixedClock
from tests.server import LocalServer, new_server, programs

SQLITE, POSTGRESQL = ENGINES = ("sqlite", "postgresql")
UPGRADED = "upgraded"
"""The database on a server that all others are copied from."""


def pytest_addoption(parser: pytest.Parser) -> None:
    """`--engine postgresql` runs everything that doesn't ask for files on a server."""
    parser.addoption("--engine", choices=ENGINES, default=SQLITE)


def engine_of(test: pytest.Item | pytest.Function) -> str | None:
    """The one engine that a test is about; None if it's about any."""
    if test.get_closest_marker("of_files") is not None:
        return SQLITE
    return None if test.get_closest_marker("of_servers") is None else POSTGRESQL


@pytest.fixture
def noon() -> FixedClock:
    """A clock that stands at noon until it is pushed."""
    return FixedClock()


@pytest.fixture(scope="session")
def server() -> Generator[LocalServer]:
    """A PostgreSQL server of this process's own."""
    found = programs()
    if found is None:
        pytest.skip("PostgreSQL is not installed: no initdb on the path or in its packages")
    with new_server(found) as local, local.running():
        yield local


@pytest.fixture(scope="session")
def upgraded_server(server: LocalServer) -> LocalServer:
    """The server with a database of the newest version to copy."""
    with ThreadPoolExecutor() as aside:  # since some ask for this while their own loop runs
        aside.submit(asyncio.run, _upgrade(server.place(UPGRADED), server)).result()
    return server


@pytest.fixture(scope="session")
def shared_database(upgraded_server: LocalServer) -> Server:
    """One that is cleaned after each test, since making one for each would take long."""
    return upgraded_server.make(UPGRADED)


async def _upgrade(place: Server, server: LocalServer) -> None:
    server.do(f"CREATE DATABASE {place.name} TEMPLATE template0")
    async with open_database(place, FixedClock()):
        pass


@pytest.fixture
def engine(request: pytest.FixtureRequest) -> str:
    """What keeps the database; some rooms ask for both."""
    return engine_of(request.node) or str(request.config.getoption("--engine"))


@pytest.fixture
def place(engine: str, tmp_path: Path, request: pytest.FixtureRequest) -> Generator[Place]:
    """Where an empty database is or can be."""
    if engine == SQLITE:
        yield tmp_path / "class-effort.sqlite3"
        return
    shared: Server = request.getfixturevalue("shared_database")
    server: LocalServer = request.getfixturevalue("server")
    yield shared
    server.clean(shared)


@pytest.fixture
async def database(place: Place, noon: FixedClock) -> AsyncGenerator[Database]:
    """An empty database of the newest version."""
    async with open_database(place, noon) as opened:
        yield opened
