"""Work for several who ask at the same time: each gets a run that began after they asked."""

import asyncio
from collections.abc import Awaitable, Callable
from datetime import timedelta
from functools import partial

import pytest

from bot.desk.together import LONGEST_REST, REST, Latest, Together
from tests.fixed_clock import FixedClock


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
    together = Together[int](FixedClock())
    first = await _begun(together.run("a", slow))
    late = await _begun(*(together.run("a", slow) for _ in range(5)))
    for _ in range(6):
        slow.may_end.release()
    assert await asyncio.gather(*first) == [1]
    assert await asyncio.gather(*late) == [2] * 5
    assert slow.begun == 2


async def test_another_key_is_other_work(slow: Slow) -> None:
    together = Together[int](FixedClock())
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
    together = Together[int](FixedClock())
    (first,) = await _begun(together.run("a", slow))
    late = await _begun(together.run("a", slow), together.run("a", slow))
    await ends(slow, first)
    slow.may_end.release()
    assert await asyncio.gather(*late) == [2, 2]


async def test_nothing_is_kept_once_everybody_has_been_answered(slow: Slow) -> None:
    together = Together[int](FixedClock())
    slow.may_end.release()
    slow.may_end.release()
    assert [await together.run("a", slow), await together.run("a", slow)] == [1, 2]
    assert not together._pieces


async def _is_waited_for(clock: FixedClock, slow: Slow, took: timedelta) -> Together[int]:
    """A run that took so long, and somebody who has asked again right after it."""
    together = Together[int](clock)
    (first,) = await _begun(together.run("a", slow))
    clock.push(took.total_seconds())
    slow.may_end.release()
    assert await first == 1
    slow.may_end.release()
    return together


async def _let_be(seconds: float, clock: FixedClock) -> None:
    clock.push(seconds)
    for _ in range(5):
        await asyncio.sleep(0)


@pytest.mark.parametrize("took", [timedelta(seconds=0.1), timedelta(minutes=1)])
async def test_after_a_run_that_took_long_the_next_ones_wait_for_each_other(
    slow: Slow, took: timedelta
) -> None:
    clock = FixedClock()
    together = await _is_waited_for(clock, slow, took)
    rest = min(REST * took, LONGEST_REST).total_seconds()
    early = await _begun(together.run("a", slow))
    await _let_be(rest - 0.01, clock)
    assert slow.begun == 1
    late = await _begun(together.run("a", slow))
    await _let_be(0.01, clock)
    assert await asyncio.gather(*early, *late) == [2, 2]


async def test_what_was_not_run_for_a_while_is_run_at_once(slow: Slow) -> None:
    clock = FixedClock()
    together = await _is_waited_for(clock, slow, timedelta(seconds=0.1))
    await _let_be(REST * 0.1, clock)
    assert await together.run("a", slow) == 2


async def test_another_key_needs_no_rest(slow: Slow) -> None:
    together = await _is_waited_for(FixedClock(), slow, timedelta(seconds=0.1))
    assert await together.run("b", slow) == 2


async def test_a_clock_that_is_set_back_keeps_nobody_waiting_for_long(slow: Slow) -> None:
    clock = FixedClock()
    together = await _is_waited_for(clock, slow, timedelta(seconds=0.1))
    clock.moment -= timedelta(hours=3)
    waiting = await _begun(together.run("a", slow))
    await _let_be(LONGEST_REST.total_seconds(), clock)
    assert await asyncio.gather(*waiting) == [2]


async def test_of_what_comes_while_it_is_done_only_the_last_follows() -> None:
    latest, done, may_end = Latest(), list[str](), asyncio.Event()

    async def work(name: str) -> None:
        done.append(name)
        await may_end.wait()

    asked = [asyncio.ensure_future(latest.run("a", partial(work, name))) for name in "1234"]
    other = asyncio.ensure_future(latest.run("b", partial(work, "other")))
    await asyncio.sleep(0)
    assert done == ["1", "other"]
    assert [each.done() for each in asked] == [False, True, True, True]
    may_end.set()
    await asyncio.gather(*asked, other)
    assert done == ["1", "other", "4"]
    await latest.run("a", partial(work, "5"))
    assert done[-1] == "5", "nothing is left behind"


async def test_what_fails_is_raised_and_the_next_to_ask_begins_anew() -> None:
    latest, done = Latest(), list[str]()

    async def fail() -> None:
        await asyncio.sleep(0)
        raise ZeroDivisionError

    async def work() -> None:
        done.append("done")

    failing = asyncio.ensure_future(latest.run("a", fail))
    await asyncio.sleep(0)
    await latest.run("a", work)
    with pytest.raises(ZeroDivisionError):
        await failing
    assert done == [], "nobody misses what was to follow it"
    await latest.run("a", work)
    assert done == ["done"]
