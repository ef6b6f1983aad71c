"""The bot's process is killed again and again while members answer, and nothing is lost."""

import asyncio
import random
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from demo_script.stand_in import StandIn
from tests.campaigns.ground import WIDE, prepare, until_it_works, until_quiet
from tests.campaigns.process import Run, TwoClocks, settings_for
from tests.campaigns.room import Room
from tests.campaigns.truth import compare
from tests.demo_script.method_models import check_request

KILLS = 20
MEMBERS = 10


async def test_no_answer_is_lost_and_none_counts_twice(tmp_path: Path) -> None:
    luck, clocks = random.Random(20260903), TwoClocks(datetime.now(UTC) - timedelta(minutes=20))
    async with StandIn(clocks.now, validator=check_request, limits=WIDE) as api:
        settings = settings_for(api, tmp_path)
        (members,) = await prepare(settings, api, clocks, members=MEMBERS)
        room = Room(members, luck)
        clocks.real = True
        run = Run(settings, tmp_path / "journal")
        for kill in range(KILLS):
            await run.start()
            if kill % 3 == 2:  # also while it starts, and takes up what the last run left
                await asyncio.sleep(luck.uniform(0.5, 1.5))
            else:
                await until_it_works(api)
                with room.answering():
                    await asyncio.sleep(luck.uniform(0.1, 0.4))
            await run.kill()
        await run.start()
        await until_quiet(api, settings.database)
        await run.kill()
        found = compare(api, settings.database, room, instructor=0)

    assert api.invalid == []
    assert found.said > 2 * MEMBERS, "nobody had time to answer: the test says nothing"
    assert found.clean, found
    journal = (tmp_path / "journal").read_text()
    assert "Traceback" not in journal
    assert settings.token.get_secret_value() not in journal


@pytest.mark.parametrize("signals", [1, 2])
async def test_asked_to_end_it_loses_nothing_either(tmp_path: Path, signals: int) -> None:
    luck, clocks = random.Random(signals), TwoClocks(datetime.now(UTC) - timedelta(minutes=20))
    async with StandIn(clocks.now, validator=check_request, limits=WIDE) as api:
        settings = settings_for(api, tmp_path)
        (members,) = await prepare(settings, api, clocks, members=MEMBERS)
        room = Room(members, luck)
        clocks.real = True
        run = Run(settings, tmp_path / "journal")
        for _ in range(2):
            await run.start()
            await until_it_works(api)
            with room.answering():
                await asyncio.sleep(luck.uniform(0.3, 0.6))
                code = await run.end(signals)
            assert code == 0
        await run.start()
        await until_quiet(api, settings.database)
        assert await run.end() == 0
        found = compare(api, settings.database, room, instructor=0)

    assert found.said > MEMBERS, "nobody had time to answer: the test says nothing"
    assert found.clean, found
    assert "Traceback" not in (tmp_path / "journal").read_text()
