"""Whether anything slows down as a database grows: `python -m tests.benchmarks.growth`.

A studio has a hundred members in five groups that met twice a week for a year. It is multiplied:
100 studios have 10,000 members and about 5 million answers. Beside them, one more group has another
class, and what the bot does for it is measured, with the stand-in of the chat service in the same
process; ratios are to one studio.
"""

import argparse
import asyncio
import tempfile
import time
from collections.abc import AsyncGenerator
from contextlib import asynccontextmanager
from dataclasses import dataclass, field
from datetime import timedelta
from pathlib import Path

import numpy as np

from bot.desk.beliefs import forget_beliefs
from bot.desk.calendar import plan_ahead
from bot.storage.backup import backup
from bot.storage.database import Transaction, open_database
from bot.storage.remembered import forget_histories
from demo_script.stand_in import Person
from demo_script.theatre import Theatre, open_theatre
from tests.benchmarks.filling import FIRST, History, fill, plan_of
from tests.journeys.evening import USUAL, answer_data, asked

GROUPS, MEMBERS, CLASSES = 5, 20, 104
APART = timedelta(days=3.5)
COMING = FIRST + CLASSES * APART
OTHERS = 10**9
"""Accounts of those who aren't on stage begin here."""
LETTERS = "abcdefghijklmnopqrstuvwxyz234567"
COLUMNS = "SELECT name FROM pragma_table_info(:name)"
COPIED = {
    "person": ("id",),
    "training_group": ("id", "plan_id"),
    "plan": ("id", "group_id"),
    "leading": ("group_id", "person_id"),
    "membership": ("group_id", "person_id"),
    "session": ("id", "group_id", "plan_id"),
    "prompt": ("id", "session_id", "person_id"),
    "answer": ("prompt_id",),
}
"""Tables that a studio fills, in the order of their references, with the ids in them."""


@dataclass(slots=True)
class Figures:
    """CPU seconds by what was done."""

    answers: int = 0
    size: int = 0
    """Bytes."""
    seconds: dict[str, float] = field(default_factory=dict)


@asynccontextmanager
async def noted(found: Figures, what: str, times: int = 1) -> AsyncGenerator[None]:
    """Note how long it took inside, for each time."""
    began = time.process_time()
    yield
    found.seconds[what] = (time.process_time() - began) / times


async def measure(folder: Path, studios: int) -> Figures:
    """Fill a database with so many studios, and let one group have a class."""
    forget_beliefs()  # it is the same group each time, and each time only just started
    forget_histories()
    found = Figures()
    file = folder / "class-effort.sqlite3"
    async with open_theatre(folder, COMING - timedelta(hours=2)) as theatre:
        leader = theatre.api.person("Ines")
        members = [theatre.api.person(f"Member {number}") for number in range(MEMBERS)]
        for person in (leader, *members):
            person.press_start()
        await theatre.settle()
        async with theatre.house.database.transaction() as tx:
            await _fill(tx, studios, leader, members)
            found.answers = await tx.value("SELECT count(*) FROM answer")
        await _have_class(theatre, leader, members, found)
    found.size = file.stat().st_size
    began = time.monotonic()
    await asyncio.to_thread(backup, file, folder / "saved")
    found.seconds["a backup, per GB (on the clock)"] = (time.monotonic() - began) * 1e9 / found.size
    began = time.monotonic()
    async with open_database(file):
        pass
    found.seconds["opening the database (on the clock)"] = time.monotonic() - began
    return found


async def _fill(tx: Transaction, studios: int, leader: Person, members: list[Person]) -> None:
    """One studio, its copies, and the group on stage."""
    luck = np.random.default_rng(7)
    for number in range(GROUPS):
        first = OTHERS + 100 * number
        accounts = tuple(range(first, first + MEMBERS))
        plan = plan_of(6, name=f"Group {number}", rule="FREQ=DAILY;COUNT=1")
        await fill(tx, plan, _history(first + 99, accounts), luck)
    for table in COPIED:
        await tx.execute(f"CREATE TEMP TABLE one_{table} AS SELECT * FROM {table}")  # noqa: S608
    for studio in range(1, studios):
        await _copy(tx, studio)
    accounts = tuple(each.person_id for each in members)
    plan = plan_of(6, COMING, rule="FREQ=WEEKLY")
    group = await fill(tx, plan, _history(leader.person_id, accounts), luck)
    await plan_ahead(tx, group, COMING - timedelta(hours=2))


def _history(leader: int, members: tuple[int, ...]) -> History:
    return History(leader=leader, members=members, classes=CLASSES, apart=APART, reserve=True)


async def _copy(tx: Transaction, studio: int) -> None:
    """The studio once more, with ids and accounts of its own."""
    suffix = f"{LETTERS[studio // 1024]}{LETTERS[studio // 32 % 32]}{LETTERS[studio % 32]}"
    for table, ids in COPIED.items():
        names = [row["name"] for row in await tx.all(COLUMNS, name=table)]
        chosen = ", ".join(_copied(name, ids) for name in names)
        account = {"above": studio * OTHERS} if "account" in names else {}
        await tx.execute(
            f"INSERT INTO {table} ({', '.join(names)}) SELECT {chosen} FROM one_{table}",  # noqa: S608
            studio=suffix,
            **account,
        )


def _copied(name: str, ids: tuple[str, ...]) -> str:
    if name in ids:
        return f"{name} || :studio"
    return "account + :above" if name == "account" else name


async def _have_class(
    theatre: Theatre, leader: Person, members: list[Person], found: Figures
) -> None:
    """The digest, what is asked before it and after, and every answer."""
    async with noted(found, "a digest, after a start"):
        await theatre.leap(COMING - timedelta(hours=1))
    async with noted(found, "/digest"):
        leader.say("/digest")
        await theatre.settle()
    async with noted(found, "/variant", MEMBERS):
        for person in members:
            person.say("/variant")
            await theatre.settle()
    async with noted(found, "a prompt", MEMBERS):
        await theatre.leap(COMING + timedelta(minutes=60))
    presses, began = 0, time.process_time()
    for person in members:
        while (question := asked(person.last_message)) is not None:
            data = answer_data(person.last_message, str(question), USUAL[question.topic])
            person.press(person.last_message, data)
            await theatre.settle()
            presses += 1
    found.seconds["an answer"] = (time.process_time() - began) / presses
    async with noted(found, "a turn with nothing to do"):
        await theatre.leap(COMING + timedelta(minutes=70))


def table(sizes: list[int], found: list[Figures]) -> str:
    """Milliseconds for the first, and ratios to it for the others."""
    heads = "".join(f"{f'× {each}':>10}" for each in sizes[1:])
    lines = [f"{'':38}{f'{sizes[0]} studio':>12}{heads}"]
    for what in found[0].seconds:
        first, *others = (each.seconds[what] for each in found)
        ratios = "".join(f"{other / first:>10.2f}" for other in others)
        lines.append(f"{what:38}{1000 * first:>9.1f} ms{ratios}")
    answers = "".join(f"{each.answers:>10,}" for each in found[1:])
    lines.append(f"{'answers':38}{found[0].answers:>12,}{answers}")
    megabytes = "".join(f"{each.size / 1e6:>10,.0f}" for each in found[1:])
    lines.append(f"{'MB':38}{found[0].size / 1e6:>12,.0f}{megabytes}")
    return "\n".join(lines)


def main() -> None:
    """Measure each size, and print one table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--studios", type=int, nargs="+", default=[1, 10, 100])
    sizes: list[int] = parser.parse_args().studios
    found = []
    for studios in sizes:
        with tempfile.TemporaryDirectory() as folder:
            found.append(asyncio.run(measure(Path(folder), studios)))
    print(table(sizes, found))


if __name__ == "__main__":
    main()
