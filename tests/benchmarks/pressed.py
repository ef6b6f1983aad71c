"""Whom the presses go to: this bot and bare handlers, each a process of its own."""

import asyncio
import sys
import time
from collections.abc import AsyncGenerator, Callable
from contextlib import asynccontextmanager
from dataclasses import dataclass
from pathlib import Path

from bot.delivery.pacing import OVERALL
from bot.place import Server
from demo_script.stand_in import Person, StandIn
from tests.campaigns.ground import WIDE, Ground, open_ground, until_it_works
from tests.campaigns.processes import keep_to_one_core
from tests.journeys.evening import USUAL, answer_data, asked

MEMBERS = 40
PRESSES = 6
"""Of each member on a bare handler; the bot asks about as many questions."""
INTERVAL = 1 / OVERALL
"""Seconds from press to press, one at a time."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pressed:
    """A process whose buttons are pressed, and those who press them."""

    name: str
    process: int
    people: list[Person]
    next: Callable[[Person, int], str | None]
    """What somebody presses who has pressed so often; None if they have no more to press."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ours(Pressed):
    """This bot, whose members have just been asked."""

    ground: Ground
    start: float
    """Seconds until it asked for updates."""


class Gate:
    """Lets so many press at once."""

    def __init__(self, at_once: int) -> None:
        self._interval = INTERVAL if at_once == 1 else 0.0
        self._places = asyncio.Semaphore(at_once)

    @asynccontextmanager
    async def passing(self) -> AsyncGenerator[None]:
        """Inside, it's one's turn."""
        async with self._places:
            began = time.monotonic()
            yield
            await asyncio.sleep(max(0.0, began + self._interval - time.monotonic()))


@asynccontextmanager
async def this_bot(folder: Path, server: Server | None, python: str) -> AsyncGenerator[Ours]:
    """This bot, run by that interpreter, until it is ended in order."""
    async with open_ground(folder, members=MEMBERS, server=server) as ground:
        ground.run.python = python
        start, members = await start_anew(ground), ground.members
        await ground.api.until(lambda: all(asked(each.last_message) for each in members), 60)
        assert ground.run.process is not None
        keep_to_one_core(ground.run.process.pid)
        yield Ours(
            name="this bot, the whole job",
            process=ground.run.process.pid,
            people=members,
            next=lambda person, _: usual(person),
            ground=ground,
            start=start,
        )
        await end(ground)


async def start_anew(ground: Ground) -> float:
    """Start the bot; how many seconds that took."""
    began = time.monotonic()
    await ground.start()
    return time.monotonic() - began


async def end(ground: Ground) -> None:
    """Let the bot end in order."""
    code = await ground.run.end()
    assert code == 0, f"it ended with {code}"


@asynccontextmanager
async def bare(module: str, name: str) -> AsyncGenerator[Pressed]:
    """A bare handler."""
    async with StandIn(limits=WIDE) as api:
        process = await asyncio.create_subprocess_exec(
            sys.executable, "-m", f"tests.benchmarks.bare.{module}", api.url, api.token,
            stdout=asyncio.subprocess.DEVNULL, stderr=asyncio.subprocess.DEVNULL,
        )  # fmt: skip
        try:
            await until_it_works(api)
            people = [api.person(f"Member {each}") for each in range(MEMBERS)]
            for person in people:
                person.press_start()
            await api.until(lambda: all(len(each.messages) > 1 for each in people), 60)
            keep_to_one_core(process.pid)
            yield Pressed(
                name=name,
                process=process.pid,
                people=people,
                next=lambda _, often: f"n:{often}" if often < PRESSES else None,
            )
        finally:
            process.terminate()
            await process.wait()


def usual(person: Person) -> str | None:
    """What the button carries that answers the question before them; None if there is none."""
    question = asked(person.last_message)
    if question is None:
        return None
    return answer_data(person.last_message, str(question), USUAL[question.topic])


async def tap(person: Person, data: str, gate: Gate) -> float:
    """Press, and wait for the answer and for the message to change; seconds to the answer."""
    async with gate.passing():
        shown = person.last_message
        began = time.monotonic()
        await person.press(shown, data).answered(30)
        took = time.monotonic() - began
        for _ in range(2000):
            if person.last_message.edits > shown.edits:
                break
            await asyncio.sleep(0.002)
    return took
