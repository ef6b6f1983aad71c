"""A file that can't be fetched for a while: it is tried again, and not given up soon."""

from datetime import timedelta

import pytest

from demo_script.stand_in import Trouble
from demo_script.stand_in.faults import bad_gateway, times
from tests.journeys.evening import Evening
from tests.journeys.plans import plan_text

OFTEN = 12


@pytest.mark.parametrize("trouble", [bad_gateway(), bad_gateway(404)], ids=["502", "a page"])
async def test_a_plan_whose_file_is_out_of_reach_for_minutes_becomes_a_group_all_the_same(
    stage: Evening, caplog: pytest.LogCaptureFixture, trouble: Trouble
) -> None:
    await stage.claim()
    stage.api.faults.append(times(OFTEN, "getFile", trouble))
    stage.instructor.send_document("plan.toml", plan_text().encode())
    began = stage.now
    for _ in range(2 * OFTEN):
        await stage.settle()
        if stage.rows("SELECT name FROM training_group"):
            break
        await stage.leap(stage.now + timedelta(seconds=17))
    assert len(stage.rows("SELECT name FROM training_group")) == 1
    assert stage.now - began > timedelta(minutes=2)
    assert [each for each in caplog.records if each.exc_info] == []


@pytest.mark.long
async def test_what_stays_out_of_reach_is_given_up_in_the_end(evening: Evening) -> None:
    """Else whoever sent it would never be heard again."""
    ines = evening.instructor
    evening.api.faults.append(times(10_000, "getFile", bad_gateway()))
    ines.send_document("plan.toml", plan_text("Second").encode())
    await evening.settle()
    for _ in range(5):
        await evening.leap(evening.now + timedelta(minutes=10))
        await evening.settle()
    assert len(evening.rows("SELECT 1 FROM inbox WHERE parked_at IS NOT NULL")) == 1
    before = len(ines.messages)
    await evening.say(ines, "/digest")
    assert len(ines.messages) > before + 1
    async with evening.theatre.house.database.transaction() as tx:
        await tx.execute("DELETE FROM inbox WHERE parked_at IS NOT NULL")
