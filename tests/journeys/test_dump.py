"""A copy of a database on a server, made and put back with the very lines in DEVELOPERS.md."""

import asyncio
import os
import re
import shutil
import subprocess
from collections.abc import Generator
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from bot.buttons.personal import DataButton
from bot.place import Server
from bot.settings import Secret, Settings
from demo_script.clock import PushedClock
from demo_script.stand_in import StandIn
from demo_script.theatre import OWNER_CODE
from tests.demo_script.method_models import check_request
from tests.journeys.evening import MONDAY, STARTS, WEEK, Evening, data_of, is_summary
from tests.journeys.plans import plan_text
from tests.journeys.test_restarts import Lives
from tests.server import LocalServer

pytestmark = pytest.mark.of_servers

DEVELOPERS = Path(__file__).parents[2] / "DEVELOPERS.md"
COMMANDS = re.compile(r"^      (pg_\S.*)$", re.MULTILINE)
NEEDED = ("pg_dump", "pg_restore", "psql")


def commands() -> tuple[str, str]:
    """What saves, and what puts back."""
    saving, *putting_back = COMMANDS.findall(DEVELOPERS.read_text())
    assert putting_back
    return saving, "\n".join(putting_back)


@pytest.fixture
def empty(server: LocalServer) -> Generator[Server]:
    """A database without a table."""
    made = server.make()
    yield made
    server.drop(made)


async def run(folder: Path, script: str, old: Server, new: Server) -> None:
    """As somebody would type it."""
    found = await asyncio.to_thread(
        subprocess.run,
        ["bash", "-euo", "pipefail", "-c", script],
        cwd=folder, capture_output=True, text=True, check=False,
        env={**os.environ, "OLD": old.address, "NEW": new.address},
    )  # fmt: skip
    assert found.returncode == 0, found.stderr


@pytest.mark.skipif(
    not all(map(shutil.which, NEEDED)), reason="PostgreSQL's own commands are not installed"
)
async def test_what_was_dumped_amid_the_answers_goes_on_elsewhere_without_who_was_erased(
    tmp_path: Path, place: Server, empty: Server
) -> None:
    saving, putting_back = commands()
    clock = PushedClock(MONDAY)
    async with StandIn(clock.now, validator=check_request) as api:
        settings = Settings(
            token=Secret(api.token),
            api_url=api.url,
            database=place,
            owner_code=Secret(OWNER_CODE),
        )
        lives = Lives(settings, api, clock)
        evening = Evening(
            theatre=await lives.begin(),
            file=tmp_path,
            server=place,
            instructor=api.person("Ines"),
        )
        await evening.found(plan_text())
        ana, ben, zeb = await evening.join("Ana", "Ben", "Zebulon")
        await evening.class_is_over()
        await evening.answer_all(zeb)
        await evening.answer(ana, "c", 9)
        before = evening.dump()
        await asyncio.gather(run(tmp_path, saving, place, empty), evening.answer_all(ben))
        await evening.say(zeb, "/mydata")
        for choice in ("erase", "yes"):
            await evening.press(zeb, data_of(zeb.last_message, DataButton, choice=choice))
        await lives.end()
        await run(tmp_path, putting_back, place, empty)

        evening.server = empty
        for name, stored in evening.dump().items():
            if name != "erased":
                assert missing(name, before[name], stored) == [], name
        assert zeb.person_id in {row[0] for row in evening.rows("SELECT account FROM person")}

        lives = Lives(replace(settings, database=empty), api, clock)
        evening.theatre = await lives.begin()
        await evening.settle()
        assert evening.mentions(zeb) == [], "who was erased since is erased again"
        await evening.answer_all(ana)
        assert is_summary(ana.last_message)
        assert evening.answers(ana)["c"] == 9
        since = len(evening.instructor.messages)
        await evening.leap(STARTS + WEEK - timedelta(hours=1))
        told = [each.text for each in evening.instructor.messages[since:]]
        assert any("Ana" in each for each in told), told
        await lives.end()
    assert api.invalid == []
    assert evening.rows("SELECT problem FROM inbox WHERE parked_at IS NOT NULL") == []


def missing(
    name: str, before: list[tuple[object, ...]], after: list[tuple[object, ...]]
) -> list[tuple[object, ...]]:
    """What had been there before the copy was begun; of what somebody was at, only its id."""
    if name in ("prompt", "dialogue", "session"):
        return [row for row in before if row[0] not in {each[0] for each in after}]
    return [row for row in before if row not in after]
