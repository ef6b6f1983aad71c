"""What a press costs, beside bare handlers: `python -m tests.benchmarks.throughput`.

All run in one go against the same loopback server, each in a process of its own on the same core
where the machine lets us choose one. The bare handlers answer the press and change the message;
this bot also stores update and answer, asks the next question, watches and tells what changes.

One at a time they are pressed in turns, a second each, so that none has the computer's better
minutes; and as often as a bot may send: what is done seldom costs more each time than what is done
all the time. In a hurry, nobody waits for the message to change before they press again, so that
nothing but this bot says how many answers a second it takes.

`--python` names another interpreter for this bot, such as that of an environment without the tools
of the tests, of which some are loaded wherever they are found.
"""

import argparse
import asyncio
import sys
import tempfile
import time
from collections.abc import AsyncGenerator, Awaitable, Callable, Iterator
from contextlib import AsyncExitStack, asynccontextmanager
from dataclasses import dataclass, field
from functools import partial
from itertools import cycle, islice
from pathlib import Path
from statistics import median, quantiles

from demo_script.stand_in import Message, Person
from tests.benchmarks.pressed import (
    Gate,
    Ours,
    Pressed,
    bare,
    end,
    start_anew,
    tap,
    this_bot,
)
from tests.campaigns.processes import cpu_of, memory_of
from tests.conftest import ENGINES, SQLITE
from tests.server import database_of

TAKEN = "Noted."
"""What the bot says to each answer that it has kept."""
MANY = 32
"""Who press at the same time, after all have pressed one at a time."""
TURN = 29
"""Presses of each turn, one at a time: about a second."""
HURRIES = 3
"""So often each member answers everything anew in a hurry, still within what one may send."""
WIDTHS = (8, 12, 12, 10, 8, 9)
STARTS = 5
PICTURES = 5
REST_SECONDS = 3.0
"""Before and after: what a start leaves to do isn't the buttons' cost, what is put off is."""
BARE = (("ptb", "chat library, bare"), ("aiogram", "other framework, bare"))

Taps = Callable[[Person, Gate], Awaitable[list[float]]]


@dataclass(slots=True, kw_only=True)
class Figures:
    """What was measured of one process."""

    waits: list[float] = field(default_factory=list)
    """Seconds from each press to its answer."""
    seconds: float = 0.0
    cpu: float = 0.0
    """Seconds of CPU."""
    memory: float = 0.0
    """Bytes."""

    @property
    def each(self) -> float:
        """Seconds of CPU for one press."""
        return self.cpu / len(self.waits)

    def line(self, name: str, at_once: int) -> str:
        """One row of the table."""
        count, late = len(self.waits), quantiles(self.waits, n=100)[98]
        return (
            f"{name:<24}{at_once:>8}{1000 * self.each:>12.2f}{count / self.seconds:>12.0f}"
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


@asynccontextmanager
async def measured(several: list[Pressed], found: list[Figures]) -> AsyncGenerator[None]:
    """Add to the figures what the processes use meanwhile and for a while after, at rest or not."""
    await asyncio.sleep(REST_SECONDS)
    before = [cpu_of(each.process) for each in several]
    yield
    await asyncio.sleep(REST_SECONDS)
    for pressed, figures, used in zip(several, found, before, strict=True):
        figures.cpu = cpu_of(pressed.process) - used
        figures.memory = memory_of(pressed.process)


async def in_turns(several: list[Pressed]) -> list[Figures]:
    """One press at a time, a second of them for each and again, until nobody has more to press.

    What a process does while others are pressed counts as well: some work is put off for a while.
    """
    gate, found = Gate(1), [Figures() for _ in several]
    left = list(zip(map(_round_robin, several), found, strict=True))
    async with measured(several, found):
        while left:
            for presses, figures in tuple(left):
                began = time.monotonic()
                turn = [await tap(*each, gate) for each in islice(presses, TURN)]
                figures.seconds += time.monotonic() - began
                figures.waits += turn
                if len(turn) < TURN:
                    left.remove((presses, figures))
    return found


def _round_robin(pressed: Pressed) -> Iterator[tuple[Person, str]]:
    """Who presses what, each person once and then again, until nobody has more to press."""
    people, often = pressed.people, 0
    while people:
        for person in people:
            if (data := pressed.next(person, often)) is not None:
                yield person, data
        often += 1
        people = [each for each in people if pressed.next(each, often) is not None]


async def at_once(pressed: Pressed, taps: Taps) -> Figures:
    """Everybody presses as soon as they may, many at the same time."""
    gate, figures = Gate(MANY), Figures()
    async with measured([pressed], [figures]):
        began = time.monotonic()
        told = await asyncio.gather(*(taps(each, gate) for each in pressed.people))
        figures.seconds = time.monotonic() - began
    figures.waits = [wait for waits in told for wait in waits]
    return figures


async def _tap_all(pressed: Pressed, person: Person, gate: Gate) -> dict[str, float]:
    """Press all there is to press: what was pressed, each with the seconds to its answer."""
    waits = dict[str, float]()
    while (data := pressed.next(person, len(waits))) is not None:
        waits[data] = await tap(person, data, gate)
    return waits


async def all_at_once(pressed: Pressed) -> Figures:
    """The same with all there is to press."""

    async def taps(person: Person, gate: Gate) -> list[float]:
        return list((await _tap_all(pressed, person, gate)).values())

    return await at_once(pressed, taps)


async def in_a_hurry(bot: Ours) -> Figures:
    """All answers are changed as fast as they are taken."""
    gate = Gate(MANY)
    given = await asyncio.gather(*(_tap_all(bot, each, gate) for each in bot.people))
    anew = {each.person_id: list(data) for each, data in zip(bot.people, given, strict=True)}
    return await at_once(bot, partial(_answer_anew, anew))


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


async def the_rest(bot: Ours) -> Whole:
    """What it takes to draw, and to start."""
    drawing = await _press_while_drawing(bot)
    memory, starts = memory_of(bot.process), [bot.start]
    for _ in range(STARTS - 1):
        await end(bot.ground)
        starts.append(await start_anew(bot.ground))
    return Whole(start=median(starts), memory=memory, drawing=drawing)


async def _press_while_drawing(bot: Ours) -> list[float]:
    """Members look at their answers in turn while their instructor has pictures drawn."""
    instructor, waits = bot.ground.instructor, list[float]()
    turns, gate = cycle(bot.people), Gate(1)  # whoever presses too often isn't answered
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


async def compare(engine: str, python: str) -> None:
    """Print the figures of one run; memory is of the bot alone, without who draws its pictures."""
    heads = ("at once", "CPU ms each", "a second", "median", "p99", "MiB")
    print(" " * 24 + "".join(f"{each:>{wide}}" for each, wide in zip(heads, WIDTHS, strict=True)))
    async with AsyncExitStack() as stack:
        several = [await stack.enter_async_context(bare(*each)) for each in BARE]
        bot = await stack.enter_async_context(_bot(engine, python))
        figures = await in_turns([*several, bot])
        for pressed, found in zip([*several, bot], figures, strict=True):
            print(found.line(pressed.name, 1), flush=True)
        print(_compared(figures))
        print((await the_rest(bot)).line(), flush=True)
    figures = []
    for each in BARE:
        async with bare(*each) as pressed:
            figures.append(await all_at_once(pressed))
        print(figures[-1].line(pressed.name, MANY), flush=True)
    async with _bot(engine, python) as bot:
        figures.append(await all_at_once(bot))
        print(figures[-1].line(bot.name, MANY), flush=True)
        print(_compared(figures), flush=True)
    async with _bot(engine, python) as bot:
        print((await in_a_hurry(bot)).line("this bot, in a hurry", MANY), flush=True)


def _compared(figures: list[Figures]) -> str:
    ptb, other, ours = (each.each for each in figures)
    return (
        f"  {ours / ptb:.2f} times the CPU of the chat library's bare handler, "
        f"{ours / other:.2f} times the other's"
    )


@asynccontextmanager
async def _bot(engine: str, python: str) -> AsyncGenerator[Ours]:
    with tempfile.TemporaryDirectory() as folder, database_of(engine) as server:
        async with this_bot(Path(folder), server, python) as bot:
            yield bot


if __name__ == "__main__":
    given = argparse.ArgumentParser(description=__doc__)
    given.add_argument("--engine", choices=ENGINES, default=SQLITE)
    given.add_argument("--python", default=sys.executable, help="this bot's interpreter")
    chosen = given.parse_args()
    asyncio.run(compare(chosen.engine, chosen.python))
