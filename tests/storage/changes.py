"""A group with a history, and all that changes what it says."""

from collections.abc import Awaitable, Callable
from dataclasses import dataclass
from datetime import timedelta

import numpy as np

from bot.storage import attendance, prompts, sessions, verdicts
from bot.storage.database import Transaction
from bot.storage.erasure import erase_person
from bot.storage.history import reports_of_group
from bot.storage.people import Person, remember
from bot.storage.prompts import Prompt
from bot.storage.rescheduling import cancel_session, put_back, restore_session
from bot.storage.retention import thin_out
from bot.storage.sessions import Session
from core.questions import SESSION, Question, Said, Topic
from core.reports import Settled
from core.verdict import Verdict
from tests.benchmarks.filling import History, fill, held, plan_of

CLASSES = 4
ANA, BEN = 100, 101
MINUTES, DAY, LONG = timedelta(minutes=5), timedelta(days=1), timedelta(days=25 * 31)


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """A group of two that has met some times; about the first time nobody was asked."""

    group: str
    held: tuple[Session, ...]
    """Oldest first."""
    ana: Person

    async def prompt(self, tx: Transaction, number: int = -1) -> Prompt:
        """What Ana was asked about a class."""
        found = await prompts.prompts_of_session(tx, self.held[number].id)
        return next(each for each in found if each.person_id == self.ana.id)

    async def say(self, tx: Transaction, effort: float, number: int = -1) -> None:
        """Ana says how hard a class was; the harder, the later."""
        said = Said(number=effort, at=self.held[-1].ends_at + timedelta(hours=effort))
        await prompts.put_answer(tx, await self.prompt(tx, number), SESSION, said, 10**6)

    async def read(self, tx: Transaction) -> tuple[Settled, Settled]:
        """Everybody's history, and Ana's alone."""
        everyones = await reports_of_group(tx, self.group)
        return everyones, await reports_of_group(tx, self.group, member=self.ana.id)


async def scene_in(tx: Transaction) -> Scene:
    """Everybody has answered, more or less."""
    history = History(leader=1, members=(ANA, BEN), classes=CLASSES)
    group = await fill(tx, plan_of(3), history, np.random.default_rng(7))
    await held(tx, group, history.starts(-1))
    rows = await tx.all("SELECT * FROM session ORDER BY starts_at")
    scene = Scene(
        group=group.id,
        held=tuple(map(sessions.read_session, rows)),
        ana=await remember(tx, ANA, "Ana", "en", history.first),
    )
    for number in range(1, CLASSES + 1):
        await scene.say(tx, 6.0, number)
    return scene


async def answer(tx: Transaction, scene: Scene) -> None:
    """About the last class."""
    await scene.say(tx, 7.0)


async def answer_once_more(tx: Transaction, scene: Scene) -> None:
    """The same question."""
    await scene.say(tx, 9.0)


async def answer_late(tx: Transaction, scene: Scene) -> None:
    """About the first class that was asked about."""
    await scene.say(tx, 8.0, 1)


async def stop_early(tx: Transaction, scene: Scene) -> None:
    """About a movement."""
    said = Said(word="unfinished", at=scene.held[-1].ends_at + DAY)
    prompt = await scene.prompt(tx)
    await prompts.put_answer(tx, prompt, Question(Topic.EFFORT, 0), said, 10**6)


async def call_it(tx: Transaction, scene: Scene, verdict: Verdict | None) -> None:
    """In the class that nobody was asked about."""
    session, (movement, dose) = scene.held[0], (await scene.prompt(tx)).told[0]
    if verdict is None:
        await verdicts.drop_verdict(tx, session.id, scene.ana.id, movement)
    else:
        await verdicts.put_verdict(
            tx, session.id, scene.ana.id, movement, dose, verdict, session.starts_at
        )


async def call_it_hard(tx: Transaction, scene: Scene) -> None:
    """While the class is on."""
    await call_it(tx, scene, Verdict.HARD)


async def call_it_easy(tx: Transaction, scene: Scene) -> None:
    """Instead."""
    await call_it(tx, scene, Verdict.EASY)


async def call_it_nothing(tx: Transaction, scene: Scene) -> None:
    """After all."""
    await call_it(tx, scene, None)


async def note(tx: Transaction, scene: Scene, was_there: bool | None) -> None:
    """In the class that nobody was asked about."""
    session = scene.held[0]
    assert await attendance.note_presence(tx, session.id, scene.ana.id, was_there, session.ends_at)


async def note_absence(tx: Transaction, scene: Scene) -> None:
    """An instructor does."""
    await note(tx, scene, was_there=False)


async def note_presence(tx: Transaction, scene: Scene) -> None:
    """Instead."""
    await note(tx, scene, was_there=True)


async def note_nothing(tx: Transaction, scene: Scene) -> None:
    """After all."""
    await note(tx, scene, was_there=None)


async def move(tx: Transaction, scene: Scene) -> None:
    """The last class, to another day."""
    last = scene.held[-1]
    await put_back(tx, last, last.starts_at + DAY, last.ends_at + DAY, last.local_day + DAY)


async def prolong(tx: Transaction, scene: Scene) -> None:
    """The first one that was asked about."""
    first = scene.held[1]
    await put_back(tx, first, first.starts_at, first.ends_at + MINUTES, first.local_day)


async def cancel(tx: Transaction, scene: Scene) -> None:
    """It doesn't count, whatever was said."""
    assert await cancel_session(tx, scene.held[1].id, scene.held[-1].ends_at)


async def restore(tx: Transaction, scene: Scene) -> None:
    """It does."""
    assert await restore_session(tx, scene.held[1].id)


async def thin(tx: Transaction, scene: Scene) -> None:
    """Two years later."""
    await thin_out(tx, scene.group, scene.held[-1].ends_at + LONG)


async def thin_out_notes(tx: Transaction, scene: Scene) -> None:
    """Only the class that nobody was asked about is so old."""
    first = scene.held[0].ends_at
    await thin_out(tx, scene.group, first.replace(year=first.year + 2) + DAY)


async def erase(tx: Transaction, scene: Scene) -> None:
    """All of Ana's."""
    await erase_person(tx, scene.ana, scene.held[-1].ends_at)


Change = Callable[[Transaction, Scene], Awaitable[None]]
CHANGES: tuple[Change, ...] = (
    answer,
    answer_once_more,
    answer_late,
    stop_early,
    call_it_hard,
    call_it_easy,
    call_it_nothing,
    note_absence,
    note_presence,
    note_nothing,
    move,
    prolong,
    cancel,
    restore,
    note_absence,
    thin_out_notes,
    thin,
    erase,
)
"""All that changes what a history says, in an order in which each of them does."""
