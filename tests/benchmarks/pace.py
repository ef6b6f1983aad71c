"""A big evening: 500 members are asked while others tap: `python -m tests.benchmarks.pace`.

The real process by the computer's clock, and the stand-in with the limits that the chat service
publishes, which counts whatever comes too fast. Whoever has been asked taps through their questions
as people do, so many taps a second in all.
"""

import argparse
import asyncio
import random
import tempfile
import time
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from statistics import median, quantiles

import numpy as np

from bot.desk.calendar import plan_ahead
from bot.place import Place
from bot.settings import Secret, Settings
from bot.storage.database import open_database
from demo_script.stand_in import Event, Person, StandIn
from demo_script.stand_in.limits import Limits
from tests.benchmarks.filling import WEEK, History, fill, plan_of
from tests.campaigns.ground import until_it_works
from tests.campaigns.process import Run
from tests.conftest import ENGINES, SQLITE
from tests.journeys.evening import USUAL, answer_data, asked
from tests.server import database_of

CLASS, PROMPTED_AFTER = timedelta(minutes=50), timedelta(minutes=10)
READY_SECONDS, FILLED_A_SECOND = 40.0, 400
"""Until the class is to be asked about, so that the process has started and is at rest."""
PATIENCE_SECONDS = 300.0
ALLOWED = Limits().messages_per_second
AFTERWARDS_SECONDS = 15.0
"""So long members go on tapping when all have been asked, for comparison."""
AT_ONCE = 40
"""Members who are tapping at the same time."""
MOST_MESSAGES = ("sendMessage", "editMessageText")


@dataclass(slots=True)
class Watched:
    """What the chat service has seen."""

    api: StandIn
    waiting: set[int]
    """Chats of members who haven't got a question yet."""
    first: float = 0.0
    last: float = 0.0
    sent: int = 0
    """Messages and changes until then."""
    waits: list[tuple[float, float]] = field(default_factory=list)
    """When each tap was, and how many seconds later it was answered."""

    def note(self, event: Event) -> None:
        """A question that has reached somebody."""
        if event.direction == "out" and event.kind == "message" and event.chat_id in self.waiting:
            self.waiting.discard(event.chat_id)
            self.last = time.monotonic()
            self.first = self.first or self.last
            self.sent = sum(each.method in MOST_MESSAGES for each in self.api.requests)


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """What kind of evening it is to be."""

    sizes: list[int]
    """How many members each group has."""
    classes: int
    """So many are behind each group when the one ends that is asked about."""
    rate: float
    """Taps a second, in all."""
    cold: bool
    """Whether the process has started since the digests, so that nothing is known to it yet."""


async def prepare(api: StandIn, place: Place, wanted: Wanted) -> tuple[list[Person], list[Person]]:
    """One member of each group, and all members."""
    now = datetime.now(UTC)
    ready = READY_SECONDS + sum(wanted.sizes) * wanted.classes / FILLED_A_SECOND
    starts = now + timedelta(seconds=ready) - CLASS - PROMPTED_AFTER
    offset = 12 - now.hour  # a zone in which it's day
    zone = f"Etc/GMT{-offset:+d}" if offset else "Etc/GMT"
    local = (starts + timedelta(hours=offset)).replace(microsecond=0, tzinfo=None)
    luck = np.random.default_rng(7)
    known, everyone = list[Person](), list[Person]()
    async with open_database(place) as database:
        for number, size in enumerate(wanted.sizes):
            people = [api.person(f"Member {number}.{each}") for each in range(size + 1)]
            for person in people:
                person.press_start()
            leader, *members = people
            plan = replace(
                plan_of(6, name=f"Group {number}", rule="FREQ=WEEKLY"), timezone=zone, starts=local
            )
            history = History(
                leader=leader.person_id,
                members=tuple(each.person_id for each in members),
                classes=wanted.classes,
                first=starts - wanted.classes * WEEK,
                reserve=True,
            )
            async with database.transaction() as tx:
                group = await fill(tx, plan, history, luck)
                await plan_ahead(tx, group, starts - timedelta(hours=2))
            known.append(members[0])
            everyone += members
    api.world.updates.drop_all()
    return known, everyone


async def tap_through(members: list[Person], rate: float, watched: Watched) -> None:
    """So many taps a second, by some of those who have a question before them."""
    luck = random.Random(7)
    busy: set[int] = set()
    running: set[asyncio.Task[None]] = set()

    async def tap(person: Person) -> None:
        shown = person.last_message
        question = asked(shown)
        assert question is not None
        began = time.monotonic()
        press = person.press(shown, answer_data(shown, str(question), USUAL[question.topic]))
        await press.answered(60)
        watched.waits.append((began, time.monotonic() - began))
        while person.last_message.edits == shown.edits:  # noqa: ASYNC110 - as people look at it
            await asyncio.sleep(0.05)
        busy.discard(person.person_id)

    while True:
        await asyncio.sleep(luck.expovariate(rate))
        able = [each for each in members if can_answer(each)]
        able = [each for each in able[:AT_ONCE] if each.person_id not in busy]
        if able:
            person = luck.choice(able)
            busy.add(person.person_id)
            task = asyncio.create_task(tap(person))
            running.add(task)
            task.add_done_callback(running.discard)


def has_heard(person: Person) -> bool:
    """Whether anything has come from the bot."""
    return any(each.sender_id != person.person_id for each in person.messages)


def can_answer(person: Person) -> bool:
    """Whether there is a question before them."""
    return has_heard(person) and asked(person.last_message) is not None


async def evening(folder: Path, wanted: Wanted, place: Place) -> Watched:
    """Ask everybody, and let them tap."""
    async with StandIn() as api:
        known, members = await prepare(api, place, wanted)
        settings = Settings(token=Secret(api.token), api_url=api.url, database=place)
        watched = Watched(api, {each.person_id for each in members})
        async with Run(settings, folder / "journal") as run:
            await run.start()
            await until_it_works(api)
            if not wanted.cold:
                for person in known:
                    person.say("/variant")  # an hour before, their instructors got a digest
                await api.until(lambda: all(map(has_heard, known)), PATIENCE_SECONDS)
            assert not any(map(can_answer, members)), "filling took too long"
            api.forget()
            api.subscribe(watched.note)
            tapping = asyncio.create_task(tap_through(members, wanted.rate, watched))
            await api.until(lambda: not watched.waiting, PATIENCE_SECONDS)
            await asyncio.sleep(AFTERWARDS_SECONDS)
            tapping.cancel()
            code = await run.end()
            assert code == 0, f"it ended with {code}"
    return watched


def report(watched: Watched, count: int) -> str:
    """What one evening came to."""
    took = watched.last - watched.first
    sent, violations = watched.sent, watched.api.violations
    during = [wait for at, wait in watched.waits if at <= watched.last]
    after = [wait for at, wait in watched.waits if at > watched.last]
    return "\n".join(
        (
            f"{count} members asked in {took:.1f} s; alone, at {ALLOWED} a second, it takes"
            f" {count / ALLOWED:.1f} s; {sent} messages and changes went out meanwhile,"
            f" {sent / took:.1f} a second; too fast: {violations}",
            _line("while they are asked", during, took),
            _line("and afterwards", after, AFTERWARDS_SECONDS),
        )
    )


def _line(when: str, waits: list[float], took: float) -> str:
    if len(waits) < 2:
        return f"{when}: too few taps"
    late = [1000 * each for each in quantiles(waits, n=100)]
    return (
        f"{when}: {len(waits)} taps, {len(waits) / took:.1f} a second, answered after"
        f" {1000 * median(waits):.0f} ms (median), {late[89]:.0f} ms (p90), {late[98]:.0f} ms (p99)"
    )


def main() -> None:
    """Print the figures of one run."""
    given = argparse.ArgumentParser(description=__doc__)
    given.add_argument("--members", type=int, default=500)
    given.add_argument("--groups", type=int, default=10)
    given.add_argument("--classes", type=int, default=26, help="that each group looks back on")
    given.add_argument("--taps", type=float, default=10.0, help="a second, in all")
    given.add_argument("--engine", choices=ENGINES, default=SQLITE)
    given.add_argument("--cold", action="store_true", help="right after a start")
    said = given.parse_args()
    wanted = Wanted(
        sizes=[said.members // said.groups] * said.groups,
        classes=said.classes,
        rate=said.taps,
        cold=said.cold,
    )
    with tempfile.TemporaryDirectory() as name, database_of(said.engine) as server:
        place = server or Path(name) / "class-effort.sqlite3"
        found = asyncio.run(evening(Path(name), wanted, place))
    print(f"{said.groups} groups, {said.classes} classes each, {said.engine}")
    print(report(found, sum(wanted.sizes)))


if __name__ == "__main__":
    main()
