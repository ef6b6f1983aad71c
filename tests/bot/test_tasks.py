"""Background work that fails: the first failure stops the house, and none is a complaint."""

import asyncio
import gc

import pytest

from bot.errors import ChatRefusesUs
from bot.tasks import Tasks


async def test_of_several_that_fail_the_first_is_told_and_the_loop_complains_of_none(
    caplog: pytest.LogCaptureFixture,
) -> None:
    async def fail(number: int) -> None:
        raise ChatRefusesUs(str(number))

    tasks = Tasks()
    for number in range(4):
        tasks.start(fail(number), name=f"failing {number}")
    with pytest.raises(ChatRefusesUs, match="0"):
        await tasks.failed
    await asyncio.sleep(0)
    await tasks.end()
    gc.collect()
    assert caplog.records == []
