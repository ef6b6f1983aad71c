"""The alarm clock wakes the turn, and lets go of it quietly when all ends."""

import asyncio
import logging
from datetime import timedelta

import pytest

from bot.schedule.alarm import set_alarm

SOON = timedelta(milliseconds=20)


async def test_a_turn_that_the_end_meets_halfway_is_let_go_and_no_fault(
    caplog: pytest.LogCaptureFixture,
) -> None:
    begun, ended = asyncio.Event(), asyncio.Event()

    async def turn() -> None:
        begun.set()
        try:
            await asyncio.Event().wait()
        finally:
            ended.set()

    alarm = set_alarm(turn, SOON)
    await begun.wait()
    alarm.shutdown(wait=False)
    await ended.wait()
    await asyncio.sleep(0)  # for what would be said of it
    assert [each for each in caplog.records if each.levelno >= logging.ERROR] == []


async def test_a_turn_that_fails_is_told_of_and_comes_again(
    caplog: pytest.LogCaptureFixture,
) -> None:
    twice, times = asyncio.Event(), 0

    async def turn() -> None:
        nonlocal times
        times += 1
        if times == 2:
            twice.set()
        raise ValueError("this turn")

    alarm = set_alarm(turn, SOON)
    await twice.wait()
    alarm.shutdown(wait=False)
    assert any(each.levelno == logging.ERROR for each in caplog.records)
