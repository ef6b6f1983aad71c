"""On a server every upgrade keeps what there is, as it does in a file, or changes nothing."""

from collections.abc import Generator
from pathlib import Path

import psycopg
import pytest

from bot.errors import DatabaseTooNew
from bot.place import Server
from bot.storage.database import open_database
from bot.storage.postgres import connected
from bot.storage.upgrade import Script, known_scripts, newest_known, upgrade
from tests.fixed_clock import FixedClock
from tests.looking import rows
from tests.server import LocalServer
from tests.storage.filled import MOMENT, contents, filled, scripts_up_to

pytestmark = pytest.mark.of_servers

VERSIONS = (1, 8, newest_known())
BROKEN = Script(
    number=2, name="002_broken.sql", sql="CREATE TABLE two (a TEXT);\nDELETE FROM pulse;\nNONSENSE;"
)


@pytest.fixture
def empty(server: LocalServer) -> Generator[Server]:
    """A database without a table."""
    made = server.make()
    yield made
    server.drop(made)


@pytest.mark.parametrize("version", VERSIONS)
async def test_a_server_and_a_file_end_up_the_same(
    tmp_path: Path, empty: Server, version: int
) -> None:
    before = await filled(tmp_path / "file", version)
    async with connected(empty) as engine:
        await upgrade(engine, MOMENT, scripts_up_to(version))
        for table, there in before.items():
            marks = ", ".join(f":{name}" for name in there[0])
            for row in there:
                await engine.run(f"INSERT INTO {table} ({', '.join(row)}) VALUES ({marks})", row)  # noqa: S608
    for place in (tmp_path / "file", empty):
        async with open_database(place, FixedClock()):
            pass
    for table, expected in contents(tmp_path / "file").items():
        for each in expected:
            each.pop("edition", None)  # it is by luck
        kept = rows(empty, f"SELECT {', '.join(expected[0])} FROM {table}") if expected else []  # noqa: S608
        assert sorted(kept, key=repr) == sorted((tuple(e.values()) for e in expected), key=repr)


async def test_a_failing_script_leaves_everything_as_it_was(empty: Server) -> None:
    async with connected(empty) as engine:
        await upgrade(engine, MOMENT, scripts_up_to(1))
        await engine.run("INSERT INTO pulse VALUES ('x', :at)", {"at": MOMENT})
        with pytest.raises(psycopg.errors.SyntaxError):
            await upgrade(engine, MOMENT, (*scripts_up_to(1), BROKEN))
    assert rows(empty, "SELECT number FROM schema_version") == [(1,)]
    assert rows(empty, "SELECT name FROM pulse") == [("x",)]
    assert rows(empty, "SELECT to_regclass('two')") == [(None,)]


async def test_a_database_of_a_newer_program_is_refused_untouched(empty: Server) -> None:
    async with connected(empty) as engine:
        await upgrade(engine, MOMENT, known_scripts())
        await engine.run(
            "INSERT INTO schema_version VALUES (999, '999_later.sql', :at)", {"at": MOMENT}
        )
    with pytest.raises(DatabaseTooNew):
        async with open_database(empty):
            pass
