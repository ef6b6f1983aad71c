"""What takes long is worked out aside, one piece at a time, while the chat goes on."""

import asyncio
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from typing import TypeVar, TypeVarTuple

T = TypeVar("T")
Given = TypeVarTuple("Given")

_ASIDE = ThreadPoolExecutor(max_workers=1, thread_name_prefix="aside")
"""One thread: each more would take as much from the loop, which answers taps, and gain nothing."""


async def aside(work: Callable[[*Given], T], *given: *Given) -> T:
    """What the work returns or raises; it must touch neither the database nor the chat."""
    return await asyncio.get_running_loop().run_in_executor(_ASIDE, work, *given)
