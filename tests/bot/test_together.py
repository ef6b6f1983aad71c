"""Work for several who ask at the same time: each gets a run that began after they asked."""

import asyncio
from collections.abc import Awaitable, Callable

import pytest

from bot.desk.together import Together


class Slow:
    """Work that says how often it was begun, once it is let go."""

    def __init__(self) -> None:
        self.begun = 0
        self.may_end = asyncio.Semaphore(0)
        self.breaks = False

    async def __call__(self) -> int:
        self.begun += 1
        run = self.begun
        await self.may_end.acquire()
        if self.breaks:
            self.breaks = False
            raise ZeroDivisionError
        return run


@pytest.fixture
def slow() -> Slow:
    return Slow()


async def _begun(*asked: Awaitable[int]) -> list[asyncio.Task[int]]:
    tasks = [asyncio.ensure_future(each) for each in asked]
    await asyncio.sleep(0)
    return tasks


async def test_whoever_asks_during_a_run_shares_the_next_one(slow: Slow) -> None:
    together = Together[int]()
    first = await _begun(together.run("a", slow))
    late = await _begun(*(together.run("a", slow) for _ in range(5)))
    for _ in range(6):
        slow.may_end.release()
    assert await asyncio.gather(*first) == [1]
    assert await asyncio.gather(*late) == [2] * 5
    assert slow.begun == 2


async def test_another_key_is_other_work(slow: Slow) -> None:
    together = Together[int]()
    tasks = await _begun(together.run("a", slow), together.run("b", slow))
    assert slow.begun == 2
    slow.may_end.release()
    slow.may_end.release()
    assert await asyncio.gather(*tasks) == [1, 2]


async def _raised(slow: Slow, first: asyncio.Task[int]) -> None:
    slow.breaks = True
    slow.may_end.release()
    with pytest.raises(ZeroDivisionError):
        await first


async def _cancelled(_: Slow, first: asyncio.Task[int]) -> None:
    first.cancel()
    with pytest.raises(asyncio.CancelledError):
        await first


@pytest.mark.parametrize("ends", [_raised, _cancelled])
async def test_a_run_that_fails_is_no_answer_for_those_who_wait(
    slow: Slow, ends: Callable[[Slow, asyncio.Task[int]], Awaitable[None]]
) -> None:
    together = Together[int]()
    (first,) = await _begun(together.run("a", slow))
    late = await _begun(together.run("a", slow), together.run("a", slow))
    await ends(slow, first)
    slow.may_end.release()
    assert await asyncio.gather(*late) == [2, 2]


async def test_nothing_is_kept_once_everybody_has_been_answered(slow: Slow) -> None:
    together = Together[int]()
    slow.may_end.release()
    slow.may_end.release()
    assert [await together.run("a", slow), await together.run("a", slow)] == [1, 2]
    assert not together._pieces
