"""What a press costs, beside bare handlers: `python -m tests.benchmarks.throughput`.

All run in one go against the same loopback server, each in a process of its own on the same core
where the machine lets us choose one. The bare handlers answer the press and change the message;
this bot also stores update and answer, asks the next question, watches and tells what changes.
One at a time, all are pressed as often as a bot may send: what is done seldom costs more each time
than what is done all the time. In a hurry, nobody waits for the message to change before they
press again, so that nothing but this bot says how many answers a second it takes.
"""

import argparse
import asyncio
import sys
import tempfile
import time
from collections.abc import AsyncGenerator, Awaitable, Callable
from contextlib import asynccontextmanager
from dataclasses import dataclass
from functools import partial
from itertools import cycle
from pathlib import Path
from statistics import median, quantiles

from bot.delivery.pacing import OVERALL
from bot.place import Server
from demo_script.stand_in import Message, Person, StandIn
from tests.campaigns.ground import WIDE, Ground, open_ground, until_it_works
from tests.campaigns.processes import cpu_of, keep_to_one_core, memory_of
from tests.conftest import ENGINES, SQLITE
from tests.journeys.evening import USUAL, answer_data, asked
from tests.server import database_of

MEMBERS = 40
PRESSES = 6  # of each member; the bot asks about as many questions
TAKEN = "Noted."
"""What the bot says to each answer that it has kept."""
AT_ONCE = (1, 32)
INTERVAL = 1 / OVERALL
"""Seconds from press to press, one at a time."""
HURRIES = 3
"""So often each member answers everything anew in a hurry, still within what one may send."""
WIDTHS = (8, 12, 12, 10, 8, 9)
STARTS = 5
PICTURES = 5


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


Tap = Callable[[Person, Gate], Awaitable[list[float]]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Figures:
    """What was measured of one process."""

    waits: list[float]
    """Seconds from each press to its answer."""
    seconds: float
    cpu: float
    """Seconds of CPU."""
    memory: float
    """Bytes."""

    def line(self, name: str, at_once: int) -> str:
        """One row of the table."""
        count, late = len(self.waits), quantiles(self.waits, n=100)[98]
        return (
            f"{name:<24}{at_once:>8}{1000 * self.cpu / count:>12.2f}{count / self.seconds:>12.0f}"
            f"{1000 * median(self.waits):>10.1f}{1000 * late:>8.0f}{self.memory / 2**20:>9.0f}"
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Whole:
    """What else was measured of this bot."""

    start: float
    """Seconds until it asks for updates, the median of several starts."""
    memory: float
    """Bytes, after pictures were drawn, of the bot alone."""
    drawing: list[float]
    """Seconds from each press to its answer, while pictures are drawn."""

    def line(self) -> str:
        """What the table has no place for."""
        late = quantiles(self.drawing, n=100)[98]
        return (
            f"  start-up {self.start:.2f} s, median of {STARTS}; while pictures are drawn answers "
            f"take {1000 * median(self.drawing):.0f} ms, p99 {1000 * late:.0f}; "
            f"{self.memory / 2**20:.0f} MiB after them"
        )


async def ours(folder: Path, at_once: int, server: Server | None) -> tuple[Figures, Whole]:
    """This bot."""
    async with open_ground(folder, members=MEMBERS, server=server) as ground:
        starts = [await _start(ground)]
        members, process = ground.members, ground.run.process
        await ground.api.until(lambda: all(asked(each.last_message) for each in members), 60)
        assert process is not None
        found = await _measure(process.pid, members, _answer, at_once)
        drawing = await _press_while_drawing(ground)
        memory = memory_of(process.pid)
        for _ in range(STARTS - 1):
            await _end(ground)
            starts.append(await _start(ground))
        await _end(ground)
    return found, Whole(start=median(starts), memory=memory, drawing=drawing)


async def in_a_hurry(folder: Path, at_once: int, server: Server | None) -> Figures:
    """This bot, while all answers are changed as fast as it takes them."""
    async with open_ground(folder, members=MEMBERS, server=server) as ground:
        await ground.start()
        members, process = ground.members, ground.run.process
        await ground.api.until(lambda: all(asked(each.last_message) for each in members), 60)
        assert process is not None
        gate = Gate(at_once)
        given = await asyncio.gather(*(_questions(each, gate) for each in members))
        anew = dict(zip((each.person_id for each in members), given, strict=True))
        found = await _measure(process.pid, members, partial(_answer_anew, anew), at_once)
        await _end(ground)
    return found


async def _start(ground: Ground) -> float:
    began = time.monotonic()
    await ground.start()
    return time.monotonic() - began


async def _end(ground: Ground) -> None:
    code = await ground.run.end()
    assert code == 0, f"it ended with {code}"


async def _press_while_drawing(ground: Ground) -> list[float]:
    """Members look at their answers in turn while their instructor has pictures drawn."""
    instructor, waits = ground.instructor, list[float]()
    turns, gate = cycle(ground.members), Gate(1)  # whoever presses too often isn't answered
    for _ in range(PICTURES):
        seen = len(_photos(instructor))
        instructor.say("/digest")
        while len(_photos(instructor)) == seen:
            async with gate.passing():
                person = next(turns)
                shown = person.last_message
                began = time.monotonic()
                await person.press(shown, str(shown.buttons[0][0].data)).answered(30)
                waits.append(time.monotonic() - began)
    return waits


def _photos(person: Person) -> list[Message]:
    return [each for each in person.messages if each.attachment is not None]


async def bare(module: str, at_once: int) -> Figures:
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
            found = await _measure(process.pid, people, _press, at_once)
        finally:
            process.terminate()
            await process.wait()
    return found


async def _measure(process: int, people: list[Person], tap: Tap, at_once: int) -> Figures:
    keep_to_one_core(process)
    await asyncio.sleep(3)  # what the start leaves to do is not the buttons' cost
    before, began = cpu_of(process), time.monotonic()
    gate = Gate(at_once)
    told = await asyncio.gather(*(tap(each, gate) for each in people))
    took = time.monotonic() - began
    await asyncio.sleep(3)  # the last changes of messages go out
    return Figures(
        waits=[wait for waits in told for wait in waits],
        seconds=took,
        cpu=cpu_of(process) - before,
        memory=memory_of(process),
    )


async def _answer(person: Person, gate: Gate) -> list[float]:
    """Tap through all questions; seconds from each tap to its answer."""
    waits = []
    while (data := _usual(person)) is not None:
        waits.append(await _tap(person, data, gate))
    return waits


def _usual(person: Person) -> str | None:
    """What the button carries that answers the question before them; None if there is none."""
    question = asked(person.last_message)
    if question is None:
        return None
    return answer_data(person.last_message, str(question), USUAL[question.topic])


async def _questions(person: Person, gate: Gate) -> list[str]:
    """Tap through all questions; what was tapped."""
    tapped = []
    while (data := _usual(person)) is not None:
        tapped.append(data)
        await _tap(person, data, gate)
    return tapped


async def _answer_anew(anew: dict[int, list[str]], person: Person, gate: Gate) -> list[float]:
    """Give all answers again and again, each as soon as the one before is taken."""
    waits = []
    for data in HURRIES * anew[person.person_id]:
        async with gate.passing():
            began = time.monotonic()
            press = person.press_raw(person.last_message.message_id, data)
            await press.answered(30)
            waits.append(time.monotonic() - began)
            assert press.answer is not None
            assert press.answer.text == TAKEN, press.answer.text
    return waits


async def _press(person: Person, gate: Gate) -> list[float]:
    return [await _tap(person, f"n:{each}", gate) for each in range(PRESSES)]


async def _tap(person: Person, data: str, gate: Gate) -> float:
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


async def compare(engine: str) -> None:
    """Print the figures of one run; memory is of the bot alone, without who draws its pictures."""
    heads = ("at once", "CPU ms each", "a second", "median", "p99", "MiB")
    print(" " * 24 + "".join(f"{each:>{wide}}" for each, wide in zip(heads, WIDTHS, strict=True)))
    for at_once in AT_ONCE:
        ptb = await bare("ptb", at_once)
        print(ptb.line("chat library, bare", at_once), flush=True)
        other = await bare("aiogram", at_once)
        print(other.line("other framework, bare", at_once), flush=True)
        with tempfile.TemporaryDirectory() as folder, database_of(engine) as server:
            found, whole = await ours(Path(folder), at_once, server)
        print(found.line("this bot, the whole job", at_once), flush=True)
        each = [figures.cpu / len(figures.waits) for figures in (found, ptb, other)]
        print(
            f"  {each[0] / each[1]:.2f} times the CPU of the chat library's bare handler, "
            f"{each[0] / each[2]:.2f} times the other's"
        )
        print(whole.line(), flush=True)
    with tempfile.TemporaryDirectory() as folder, database_of(engine) as server:
        hurried = await in_a_hurry(Path(folder), max(AT_ONCE), server)
    print(hurried.line("this bot, in a hurry", max(AT_ONCE)), flush=True)


if __name__ == "__main__":
    given = argparse.ArgumentParser(description=__doc__)
    given.add_argument("--engine", choices=ENGINES, default=SQLITE)
    asyncio.run(compare(given.parse_args().engine))
