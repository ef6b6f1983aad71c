"""The one door for background work: watched tasks, and a thread for what takes long."""

import asyncio
from collections.abc import Awaitable, Callable, Coroutine
from concurrent.futures import ThreadPoolExecutor
from typing import Any, TypeVar, TypeVarTuple

T = TypeVar("T")
Given = TypeVarTuple("Given")
Work = Callable[[], Awaitable[None]]
Follow = Callable[[Work], Awaitable[None]]
"""Takes over work that may be done later."""

_ASIDE = ThreadPoolExecutor(max_workers=1, thread_name_prefix="aside")
"""One thread: each more would take as much from the loop, which answers taps, and gain nothing."""


async def aside(work: Callable[[*Given], T], *given: *Given) -> T:
    """What the work returns or raises; it must touch neither the loop nor what others write."""
    return await asyncio.get_running_loop().run_in_executor(_ASIDE, work, *given)


class Tasks:
    """A set of running tasks; one that fails is remembered and stops the house."""

    def __init__(self) -> None:
        self._running: set[asyncio.Task[None]] = set()
        self.failed: asyncio.Future[None] = asyncio.get_running_loop().create_future()

    def start(self, work: Coroutine[Any, Any, None], name: str) -> asyncio.Task[None]:
        """Run this in the background until it ends, fails, or the house closes."""
        task = asyncio.create_task(work, name=name)
        self._running.add(task)
        task.add_done_callback(self._ended)
        return task

    def _ended(self, task: asyncio.Task[None]) -> None:
        self._running.discard(task)
        if task.cancelled():
            return
        problem = task.exception()  # looked at in any case, or the loop would complain
        if problem is not None and not self.failed.done():
            self.failed.set_exception(problem)

    async def end(self) -> None:
        """Cancel whatever still runs and wait until it has let go."""
        running = tuple(self._running)
        for task in running:
            task.cancel()
        await asyncio.gather(*running, return_exceptions=True)
        if self.failed.done():
            self.failed.exception()  # retrieved here, so that the loop does not warn about it
        else:
            self.failed.cancel()
