"""A year of one studio in one process: `python -m tests.benchmarks.year [--weeks N]`.

Three groups meet twice a week, every member answers every question, and now and then somebody asks
for something. The clock leaps from one thing to the next. What the process holds is printed after
each four weeks; once the first weeks are over it should stay as it is.
"""

import argparse
import asyncio
import tempfile
import time
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np

from bot.desk.calendar import plan_ahead
from bot.settings import Secret, Settings
from bot.storage.database import open_database
from demo_script.clock import PushedClock
from demo_script.stand_in import Person, StandIn
from demo_script.stand_in.limits import Limits
from tests.benchmarks.filling import History, fill, plan_of
from tests.campaigns.pushed import Held, Pushed, open_pushed
from tests.journeys.evening import USUAL, answer_data, asked

MONDAY = datetime(2026, 1, 5, 18, 0, tzinfo=UTC)
DAYS = (("MO,TH", (0, 3)), ("TU,FR", (1, 4)), ("WE,SA", (2, 5)))
"""When each group meets: in its rule, and as days after Monday."""
CLASS_AND_MORE = timedelta(minutes=61)
CLASSES_A_MONTH = 4 * sum(len(days) for _, days in DAYS)
SETTLED = 3
"""The month with which the last is compared: until then some of what is kept is still filling."""
KEPT_MESSAGES = 12
WIDE = Limits(private_burst=1000, private_per_second=1000, messages_per_second=1000)
MOST_GROWN = 6


@dataclass(slots=True)
class Studio:
    """Who is there, and what has happened."""

    api: StandIn
    clock: PushedClock
    pushed: Pushed
    groups: list[list[Person]]
    """The members of each."""
    answers: int = 0
    classes: int = 0
    months: list[Held] = field(default_factory=list)

    async def have_class(self, number: int, starts: datetime) -> None:
        """The digest, what is asked after class, all answers, and a question or two to the bot."""
        members = self.groups[number]
        await self._leap(starts - timedelta(minutes=60))
        curious = members[self.classes % len(members)]
        curious.say("/variant")
        await self._settle()
        await self._leap(starts + CLASS_AND_MORE)
        while able := [each for each in members if asked(each.last_message) is not None]:
            for person in able:
                self._answer(person)
            await self._settle()
        if self.classes % len(DAYS) == 0:
            curious.say("/progress")
            await self._settle()
        self.classes += 1
        self._tidy_up()

    def _answer(self, person: Person) -> None:
        shown = person.last_message
        question = asked(shown)
        assert question is not None
        value = USUAL[question.topic]
        if isinstance(value, int):
            value = value + (self.answers % 3) - 1
        try:
            data = answer_data(shown, str(question), value)
        except AssertionError:  # it isn't among the buttons
            data = answer_data(shown, str(question), USUAL[question.topic])
        person.press(shown, data)
        self.answers += 1

    async def _leap(self, moment: datetime) -> None:
        self.clock.push_to(moment)
        await self.pushed.leap(moment)
        await self._settle()

    async def _settle(self) -> None:
        while True:
            await self.pushed.settle()
            if self.api.pending == 0:
                await self.pushed.settle()
                return
            await asyncio.sleep(0.002)

    def _tidy_up(self) -> None:
        """The stand-in isn't what is measured, and should not slow down either."""
        self.api.forget()
        for chat in self.api.world.chats.values():
            for old in sorted(chat.messages)[:-KEPT_MESSAGES]:
                del chat.messages[old]


async def live(folder: Path, weeks: int, members: int) -> Studio:
    """So many weeks."""
    clock, file = PushedClock(MONDAY - timedelta(days=1)), folder / "class-effort.sqlite3"
    async with StandIn(clock.now, limits=WIDE) as api:
        settings = Settings(token=Secret(api.token), api_url=api.url, database=file)
        groups = await _found(api, file, members)
        async with open_pushed(settings, clock.now()) as pushed:
            studio = Studio(api=api, clock=clock, pushed=pushed, groups=groups)
            print(
                f"{'weeks':>6}{'classes':>9}{'answers':>9}{'MB':>8}{'objects':>10}{'blocks':>10}"
                f"{'file MB':>9}{'CPU s':>8}"
            )
            for number, starts, week in _classes(weeks):
                await studio.have_class(number, starts)
                if studio.classes % CLASSES_A_MONTH == 0:
                    studio.months.append(await pushed.measure())
                    print(_line(studio, week + 1, file), flush=True)
    return studio


def _classes(weeks: int) -> Iterator[tuple[int, datetime, int]]:
    """Every class in its order: of which group, when, in which week."""
    for week in range(weeks):
        days = sorted((day, number) for number, (_, those) in enumerate(DAYS) for day in those)
        for day, number in days:
            yield number, MONDAY + timedelta(weeks=week, days=day), week


async def _found(api: StandIn, file: Path, members: int) -> list[list[Person]]:
    """The groups, before their first class."""
    luck, groups, before = (
        np.random.default_rng(7),
        list[list[Person]](),
        MONDAY - timedelta(days=2),
    )
    async with open_database(file) as database:
        for number, (rule, days) in enumerate(DAYS):
            size = members // len(DAYS) + (number < members % len(DAYS))
            leader, *joined = (api.person(f"Member {number}.{each}") for each in range(size + 1))
            for person in (leader, *joined):
                person.press_start()
            first = MONDAY + timedelta(days=days[0])
            plan = plan_of(6, first, name=f"Group {number}", rule=f"FREQ=WEEKLY;BYDAY={rule}")
            accounts = tuple(each.person_id for each in joined)
            history = History(leader=leader.person_id, members=accounts, classes=0, first=first)
            async with database.transaction() as tx:
                group = await fill(tx, plan, history, luck)
                await plan_ahead(tx, group, before)
            groups.append(joined)
    api.world.updates.drop_all()
    return groups


def _line(studio: Studio, weeks: int, file: Path) -> str:
    held = studio.months[-1]
    return (
        f"{weeks:>6}{studio.classes:>9}{studio.answers:>9}{held.memory / 2**20:>8.1f}"
        f"{held.objects:>10}{held.blocks:>10}{file.stat().st_size / 2**20:>9.1f}{held.cpu:>8.0f}"
    )


def report(months: list[Held]) -> str:
    """The last month beside the third."""
    if len(months) <= SETTLED:
        return "too few months to compare"
    then, now = months[SETTLED - 1], months[-1]
    grown = Counter(now.kinds)
    grown.subtract(then.kinds)
    kinds = ", ".join(f"{name} {count:+}" for name, count in grown.most_common(MOST_GROWN))
    return (
        f"the last month beside the third: memory × {now.memory / then.memory:.2f}, objects"
        f" × {now.objects / then.objects:.2f}, blocks × {now.blocks / then.blocks:.2f}\n"
        f"what has grown most: {kinds}"
    )


def main() -> None:
    """Print the months as they go."""
    given = argparse.ArgumentParser(description=__doc__)
    given.add_argument("--weeks", type=int, default=52)
    given.add_argument("--members", type=int, default=40)
    wanted = given.parse_args()
    began = time.monotonic()
    with tempfile.TemporaryDirectory() as folder:
        studio = asyncio.run(live(Path(folder), wanted.weeks, wanted.members))
    print(report(studio.months))
    print(f"{time.monotonic() - began:.0f} s in all")


if __name__ == "__main__":
    main()
