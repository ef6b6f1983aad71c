"""A whole evening with its database on a server, and a process that is killed in the middle."""

import random
from datetime import timedelta
from pathlib import Path

import pytest

from bot.place import Server
from tests.campaigns.ground import open_ground
from tests.campaigns.room import Room
from tests.campaigns.truth import compare
from tests.demo_script.method_models import check_request
from tests.journeys.evening import STARTS, WEEK, Evening
from tests.journeys.plans import plan_text

pytestmark = pytest.mark.of_servers

MEMBERS = 5


async def test_plan_joining_prompts_answers_and_the_next_digest(stage: Evening) -> None:
    await stage.claim()
    await stage.upload(plan_text())
    ana, ben = await stage.join("Ana", "Ben")
    await stage.class_is_over()
    await stage.answer_all(ana, c=9)
    await stage.answer_all(ben)
    assert (stage.answers(ana)["c"], stage.answers(ben)["c"]) == (9, 7)
    before = len(stage.instructor.messages)
    await stage.leap(STARTS + WEEK - timedelta(hours=1))
    told = [each.text for each in stage.instructor.messages[before:]]
    assert any("Ana" in each and "Ben" in each for each in told), told
    await stage.say(ana, "/variant")
    assert "Harbour Hall" in ana.last_message.text


async def test_no_answer_is_lost_and_none_counts_twice(tmp_path: Path, place: Server) -> None:
    luck = random.Random(20260903)
    async with open_ground(
        tmp_path, members=MEMBERS, validator=check_request, server=place
    ) as ground:
        room = Room(ground.members, luck)
        for number in (1, 2, 3):  # while members answer, while it starts, and once more
            await ground.live_and_be_killed(
                room, luck, number, starting=(0.5, 1.5), working=(0.1, 0.4)
            )
        await ground.run.start()
        await ground.until_quiet()
        await ground.run.kill()
        found = compare(ground, room)
    assert ground.api.invalid == []
    assert found.said >= MEMBERS, "nobody had time to answer: the test says nothing"
    assert found.clean, found
    journal = ground.run.journal.read_text()
    assert "Traceback" not in journal
    assert "secret" not in journal
