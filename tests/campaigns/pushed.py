"""The house alone in a process, under a clock that is pushed from outside.

`python -m tests.campaigns.pushed URL TOKEN FILE MOMENT`, then a line on standard input for each
thing to do; each is answered by a line. `Pushed` is the other end.
"""

import asyncio
import gc
import json
import os
import resource
import sys
from collections import Counter
from collections.abc import AsyncGenerator
from contextlib import asynccontextmanager
from dataclasses import asdict, dataclass
from datetime import datetime
from pathlib import Path

from bot.house import House, open_house
from bot.settings import Secret, Settings
from demo_script.clock import PushedClock
from demo_script.theatre import BREATH, DEMO_PACE, PATIENCE, STEP
from tests.campaigns.processes import memory_of

LINE_BYTES = 2**20
MOST_KINDS = 400


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """What a process holds."""

    memory: int
    """Bytes."""
    objects: int
    blocks: int
    """Pieces of memory that Python has given out."""
    cpu: float
    """Seconds until now."""
    kinds: dict[str, int]
    """How many objects of each kind there are, the most frequent kinds."""


class Pushed:
    """The process from outside."""

    def __init__(self, process: asyncio.subprocess.Process) -> None:
        self.process = process

    async def leap(self, moment: datetime) -> None:
        """Let the clock leap, and everything be done that is due then."""
        await self._do(f"leap {moment.isoformat()}")

    async def settle(self) -> None:
        """Wait until everything that came in is handled, and everything is sent."""
        await self._do("settle")

    async def measure(self) -> Held:
        """What it holds now, after a look for what it needn't."""
        return Held(**json.loads(await self._do("measure")))

    async def _do(self, line: str) -> str:
        assert self.process.stdin is not None
        assert self.process.stdout is not None
        self.process.stdin.write(f"{line}\n".encode())
        answer = (await self.process.stdout.readline()).decode()
        assert answer, "it has ended"
        return answer


@asynccontextmanager
async def open_pushed(settings: Settings, moment: datetime) -> AsyncGenerator[Pushed]:
    """It runs inside the block."""
    process = await asyncio.create_subprocess_exec(
        sys.executable, "-m", "tests.campaigns.pushed", settings.api_url,
        settings.token.text, str(settings.database), moment.isoformat(),
        stdin=asyncio.subprocess.PIPE, stdout=asyncio.subprocess.PIPE, limit=LINE_BYTES,
    )  # fmt: skip
    try:
        yield Pushed(process)
    finally:
        assert process.stdin is not None
        process.stdin.close()
        await process.wait()


async def serve(url: str, token: str, file: str, moment: str) -> None:
    """Do what is said, until nothing more is."""
    clock = PushedClock(datetime.fromisoformat(moment))
    settings = Settings(token=Secret(token), api_url=url, database=Path(file))
    async with open_house(settings, clock=clock, pace=DEMO_PACE) as house:
        while line := await asyncio.to_thread(sys.stdin.readline):
            what, _, to = line.strip().partition(" ")
            if what == "leap":
                clock.push_to(datetime.fromisoformat(to))
                await house.turn()
            if what == "measure":
                print(json.dumps(asdict(_held())), flush=True)
            else:
                await _settle(house, clock)
                print("done", flush=True)


async def _settle(house: House, clock: PushedClock) -> None:
    """Push the clock only as it must be."""
    breaths = 0
    while True:
        await asyncio.sleep(BREATH)
        working = house.delivery.busy
        if not working and await house.delivery.idle():
            return
        breaths = breaths + 1 if working else 0
        if not working or breaths > PATIENCE:
            clock.push(STEP)


def _held() -> Held:
    gc.unfreeze()  # what the house put aside once it had looked through everything counts too
    gc.collect()
    objects = gc.get_objects()
    kinds = Counter(f"{type(each).__module__}.{type(each).__qualname__}" for each in objects)
    used = resource.getrusage(resource.RUSAGE_SELF)
    return Held(
        memory=memory_of(os.getpid()),
        objects=len(objects),
        blocks=sys.getallocatedblocks(),
        cpu=used.ru_utime + used.ru_stime,
        kinds=dict(kinds.most_common(MOST_KINDS)),
    )


if __name__ == "__main__":
    asyncio.run(serve(*sys.argv[1:]))
