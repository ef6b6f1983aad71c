"""The bot's process is killed again and again while members answer, and nothing is lost."""

import asyncio
import random
from pathlib import Path

import pytest

from tests.campaigns.ground import open_ground
from tests.campaigns.room import Room
from tests.campaigns.truth import compare
from tests.demo_script.method_models import check_request

KILLS = 6
MOST_KILLS = 20
"""On a busy computer people get less said between two of them."""
MEMBERS = 10


async def test_no_answer_is_lost_and_none_counts_twice(tmp_path: Path) -> None:
    luck = random.Random(20260903)
    async with open_ground(tmp_path, members=MEMBERS, validator=check_request) as ground:
        room = Room(ground.members, luck)
        for number in range(MOST_KILLS):
            await ground.live_and_be_killed(
                room, luck, number, starting=(0.5, 1.5), working=(0.1, 0.4)
            )
            if number + 1 >= KILLS and len(room.said) >= MEMBERS:
                break
        await ground.run.start()
        await ground.until_quiet()
        await ground.run.kill()
        found = compare(ground, room)

    assert ground.api.invalid == []
    assert found.said >= MEMBERS, "nobody had time to answer: the test says nothing"
    assert found.clean, found
    journal = ground.run.journal.read_text()
    assert "Traceback" not in journal
    assert ground.api.token not in journal


@pytest.mark.parametrize("signals", [1, pytest.param(2, marks=pytest.mark.long)])
async def test_asked_to_end_it_loses_nothing_either(tmp_path: Path, signals: int) -> None:
    luck = random.Random(signals)
    async with open_ground(tmp_path, members=MEMBERS, validator=check_request) as ground:
        room = Room(ground.members, luck)
        for number in range(MOST_KILLS):
            await ground.start()
            with room.answering():
                await ground.something_is_taken_up(room)
                await asyncio.sleep(luck.uniform(0.1, 0.3))
                code = await ground.run.end(signals)
            assert code == 0
            if number > 0 and len(room.said) >= MEMBERS:
                break
        await ground.run.start()
        await ground.until_quiet()
        assert await ground.run.end() == 0
        found = compare(ground, room)

    assert ground.api.invalid == []
    assert found.said >= MEMBERS, "nobody had time to answer: the test says nothing"
    assert found.clean, found
    assert "Traceback" not in ground.run.journal.read_text()
