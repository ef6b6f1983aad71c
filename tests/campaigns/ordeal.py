"""One class that meets one kind of trouble, and what has become of everything afterwards."""

import random
from collections import Counter
from collections.abc import AsyncGenerator, Callable
from contextlib import AbstractAsyncContextManager, asynccontextmanager
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from pathlib import Path
from typing import cast

from bot.house import House
from bot.settings import Secret, Settings
from demo_script.clock import PushedClock
from demo_script.stand_in import Group, StandIn
from demo_script.theatre import OWNER_CODE, Theatre
from tests.campaigns.ground import Ground
from tests.campaigns.heard import Heard
from tests.campaigns.process import Run
from tests.campaigns.room import Room
from tests.campaigns.supervised import Supervised, open_supervised
from tests.campaigns.truth import Truth, compare
from tests.demo_script.method_models import check_request
from tests.journeys.chatroom import link, open_chatroom
from tests.journeys.conftest import open_stage
from tests.journeys.evening import ENDS, PROMPTED, STARTS, WEEK, Evening
from tests.journeys.plans import plan_text
from tests.journeys.prepared import FILE, Prepared, prepare
from tests.looking import rows

MEMBERS = 6
NAME = "Harbour Hall strength"
PAUSE_SECONDS = 0.08
"""Real ones between two taps of anybody; faster, it would be a flood by the pushed clock."""
BEFORE_PROMPT = timedelta(seconds=20)
A_FEW, PATIENCE = 4, timedelta(minutes=10)
CALM_SECONDS = 10.0
"""So long members go on answering once the trouble is over."""
MOST_SECONDS = 1800.0
"""Whoever isn't well again by then doesn't get well by themselves."""
WAITING = """SELECT (SELECT count(*) FROM inbox WHERE done_at IS NULL AND parked_at IS NULL)
+ (SELECT count(*) FROM outbox WHERE state IN ('queued', 'sending'))"""
TOO_MUCH = "SELECT update_id FROM inbox WHERE problem = 'too much'"
HEADING = f"<b>{NAME}</b> ·"


@dataclass(slots=True, kw_only=True)
class Ordeal:
    """Everything that trouble can befall."""

    ground: Ground
    supervised: Supervised
    room: Room
    heard: Heard
    group: Group
    """The class's own group chat."""
    luck: random.Random
    met: int = 0
    """How often the trouble was met."""
    too_soon: int = 0
    """Requests that came before the wait was over that the chat service had asked for."""
    injected: set[int] = field(default_factory=set)
    """Updates that nobody could read."""
    expired: set[int] = field(default_factory=set)

    @property
    def api(self) -> StandIn:
        """The chat service."""
        return self.ground.api

    @property
    def now(self) -> datetime:
        """What the bot's clock shows."""
        return self.supervised.clock.now()


Begin = Callable[[Ordeal], AbstractAsyncContextManager[None]]
"""Inside the block there is trouble."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """One kind of trouble."""

    name: str
    begin: Begin
    lasts: float = 20.0
    """Seconds of the bot's clock."""
    silent: bool = False
    """Whether nobody says anything meanwhile."""
    real: bool = False
    """Whether it takes real seconds, so that it's left to the benchmark."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What one ordeal came to."""

    kind: str
    met: int
    seconds: float
    """Until all was well again, by the bot's clock."""
    truth: Truth
    violations: int
    given_up: int
    """Updates that the bot gave up though they were fine."""
    failed: int
    """Letters that never went out."""
    endings: Counter[str]
    tracebacks: int
    leaks: int
    """How often the token is in the journal."""
    improper: int
    """Requests that don't fit the description of the API."""

    @property
    def clean(self) -> bool:
        """Whether nothing was lost, doubled without need, or told that must not be."""
        truth = self.truth
        must_be_nought = (
            truth.lost, truth.invented, truth.missing_prompts, truth.missing_digests, truth.corrupt,
            self.violations, self.given_up, self.failed, self.tracebacks, self.leaks, self.improper,
        )  # fmt: skip
        return not any(must_be_nought) and truth.doubled <= truth.in_doubt and self.met > 0


async def prepare_class(folder: Path) -> Prepared:
    """A group with a chat of its own, before its first class; played once for all ordeals."""

    async def play(evening: Evening) -> None:
        await evening.found(plan_text(NAME))
        await evening.join(*(f"Member {number}" for number in range(MEMBERS)))
        await open_chatroom(evening)
        await link(evening)
        await evening.leap(STARTS - timedelta(minutes=30))
        await evening.leap(ENDS)

    async with open_stage(folder) as evening:
        return await prepare(evening, play)


@asynccontextmanager
async def open_ordeal(folder: Path, prepared: Prepared, seed: int) -> AsyncGenerator[Ordeal]:
    """The class has just ended, and nobody has been asked yet."""
    folder.mkdir(exist_ok=True)
    prepared.write(folder)
    clock = PushedClock(prepared.moment)
    async with StandIn(clock.now, validator=check_request) as api:
        settings = Settings(
            token=Secret(api.token),
            api_url=api.url,
            database=folder / FILE,
            owner_code=Secret(OWNER_CODE),
        )
        async with open_supervised(settings, api, clock) as supervised:
            yield _put_up(prepared, supervised, random.Random(seed))


def _put_up(prepared: Prepared, supervised: Supervised, luck: random.Random) -> Ordeal:
    api, settings = supervised.api, supervised.settings
    nobody = cast("House", None)  # the supervisor has it
    theatre = Theatre(api=api, house=nobody, clock=supervised.clock)
    file = settings.database
    assert isinstance(file, Path)
    evening = prepared.put_up(theatre, file)
    people = list(evening.members.values())
    ground = Ground(
        api=api,
        place=file,
        run=Run(settings, file.with_name("journal")),
        instructor=evening.instructor,
        groups=[people],
        digests=[HEADING],
    )
    heard, room = Heard(api), Room(people, luck, PAUSE_SECONDS)
    room.said = heard
    ordeal = Ordeal(
        ground=ground,
        supervised=supervised,
        room=room,
        heard=heard,
        group=_group_of(api),
        luck=luck,
    )
    _watch_for_expired(ordeal)
    return ordeal


def _group_of(api: StandIn) -> Group:
    """The group chat as it was put up."""
    group = Group.__new__(Group)
    group._world = api.world
    group.chat = next(chat for number, chat in api.world.chats.items() if number < 0)
    return group


def _watch_for_expired(ordeal: Ordeal) -> None:
    """Remember which updates the chat service has let go of, since nobody fetched them."""
    updates = ordeal.api.world.updates
    drop = updates._drop_old

    def watched() -> None:
        now = updates._now()
        ordeal.expired |= {each.update_id for each in updates._queue if each.expires <= now}
        drop()

    updates._drop_old = watched  # type: ignore[method-assign]


# --- what happens ------------------------------------------------------------------------------


async def undergo(ordeal: Ordeal, kind: Kind) -> Outcome:
    """Trouble begins before anybody is asked, lasts while they answer, and ends."""
    supervised = ordeal.supervised
    await supervised.leap(PROMPTED - BEFORE_PROMPT)
    await supervised.is_open()
    async with kind.begin(ordeal):
        if kind.silent:
            await supervised.passing(kind.lasts)
        else:
            with ordeal.room.answering():
                await supervised.passing(BEFORE_PROMPT.total_seconds() + kind.lasts)
    over = ordeal.now
    with ordeal.room.answering():
        await supervised.passing(CALM_SECONDS)
        while len(ordeal.heard) < A_FEW and ordeal.now - over < PATIENCE:
            await supervised.breathe()  # a busy computer leaves members little time
    await _until_well(ordeal)
    seconds = (ordeal.now - over).total_seconds()
    await _next_week(ordeal)
    return _outcome(ordeal, kind, seconds)


async def _until_well(ordeal: Ordeal) -> None:
    """Wait until everything that came in is handled, and everything is sent."""
    since = ordeal.now
    while not _is_well(ordeal):
        await ordeal.supervised.breathe()
        waited = abs((ordeal.now - since).total_seconds())
        assert waited < MOST_SECONDS, f"still not well: {ordeal.supervised.journal.getvalue()}"


def _is_well(ordeal: Ordeal) -> bool:
    house = ordeal.supervised.house
    if house is None or house.delivery.busy or ordeal.api.pending:
        return False
    return _rows(ordeal, WAITING) == [(0,)]


async def _next_week(ordeal: Ordeal) -> None:
    """Everybody answers once more, and the digest of the next class comes."""
    supervised = ordeal.supervised
    await supervised.leap(max(ordeal.now, STARTS + WEEK - timedelta(hours=1)))
    await _until_well(ordeal)
    await supervised.leap(max(ordeal.now, STARTS + WEEK - timedelta(minutes=5)))
    await _until_well(ordeal)


def _rows(ordeal: Ordeal, sql: str) -> list[tuple[object, ...]]:
    return rows(ordeal.ground.place, sql)


def _outcome(ordeal: Ordeal, kind: Kind, seconds: float) -> Outcome:
    fetched = {row[0] for row in _rows(ordeal, "SELECT update_id FROM inbox")}
    flood = {
        row[0] for row in _rows(ordeal, "SELECT update_id FROM inbox WHERE problem = 'too much'")
    }
    ordeal.heard.without({*(ordeal.expired - fetched), *flood})
    journal, token = ordeal.supervised.journal.getvalue(), ordeal.api.token
    parked = _rows(ordeal, "SELECT update_id FROM inbox WHERE parked_at IS NOT NULL")
    return Outcome(
        kind=kind.name,
        met=ordeal.met,
        seconds=seconds,
        truth=compare(ordeal.ground, ordeal.room),
        violations=ordeal.api.violations + ordeal.too_soon,
        given_up=len({row[0] for row in parked} - ordeal.injected),
        failed=len(_rows(ordeal, "SELECT id FROM outbox WHERE state = 'failed'")),
        endings=Counter(ordeal.supervised.endings),
        tracebacks=journal.count("Traceback") + journal.count(" passed="),
        leaks=journal.count(token.partition(":")[2]),
        improper=len(ordeal.api.invalid),
    )
