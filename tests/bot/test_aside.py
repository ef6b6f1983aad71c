"""What is worked out aside is done one piece at a time, and the chat goes on meanwhile."""

import asyncio
import threading

import pytest

from bot.tasks import aside


async def test_one_piece_is_done_at_a_time_and_the_loop_goes_on() -> None:
    begun, go_on, threads = threading.Event(), threading.Event(), list[int]()

    def wait() -> int:
        threads.append(threading.get_ident())
        begun.set()
        assert go_on.wait(30)
        return len(threads)

    first, second = (asyncio.create_task(aside(wait)) for _ in range(2))
    while not begun.is_set():  # noqa: ASYNC110 - it is set in a thread
        await asyncio.sleep(0.001)
    for _ in range(20):
        await asyncio.sleep(0.001)
    assert len(threads) == 1, "the second waits for the first"
    go_on.set()
    assert (await first, await second) == (1, 2)
    assert threading.get_ident() not in threads


async def test_what_it_raises_is_raised_and_the_next_piece_is_done() -> None:
    def divide(one: int, other: int) -> float:
        return one / other

    with pytest.raises(ZeroDivisionError):
        await aside(divide, 1, 0)
    assert await aside(divide, 1, 2) == 0.5
