"""The bot's process is killed again and again while members answer, and nothing is lost."""

import asyncio
import os
import random
import sqlite3
import sys
from collections.abc import Iterator
from contextlib import closing, contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path

from pydantic import SecretStr

from bot.buttons import AnswerButton, ShowButton
from bot.house import open_house
from bot.settings import Settings
from core.questions import SESSION
from demo_script.clock import PushedClock
from demo_script.stand_in import Message, Person, StandIn
from demo_script.stand_in.limits import Limits
from demo_script.theatre import DEMO_PACE, OWNER_CODE, Theatre
from tests.demo_script.method_models import check_request
from tests.journeys.evening import Evening, asked, buttons, is_summary
from tests.journeys.plans import plan_text

KILLS = 20
MEMBERS = 10
PATIENCE_SECONDS = 40.0
WIDE = Limits(private_burst=1000, private_per_second=1000, messages_per_second=1000)
"""Pacing is another test's matter: two runs within a second don't know of each other's letters."""


class TwoClocks:
    """The story's clock while the class is prepared, then the computer's."""

    def __init__(self, start: datetime) -> None:
        self.story = PushedClock(start)
        self.real = False

    def now(self) -> datetime:
        """What everyone goes by at this moment."""
        return datetime.now(UTC) if self.real else self.story.now()


class Run:
    """The real process, as it is started by a supervisor."""

    def __init__(self, settings: Settings, journal: Path) -> None:
        self._journal = journal
        self._environment = {
            **os.environ,
            "CLASS_EFFORT_TOKEN": settings.token.get_secret_value(),
            "CLASS_EFFORT_API_URL": settings.api_url,
            "CLASS_EFFORT_DATABASE": str(settings.database),
        }
        self.process: asyncio.subprocess.Process | None = None

    async def start(self) -> None:
        """A new process on the same file."""
        with self._journal.open("ab") as journal:
            self.process = await asyncio.create_subprocess_exec(
                sys.executable, "-m", "bot", "run",
                env=self._environment, stdout=journal, stderr=journal,
            )  # fmt: skip

    async def kill(self) -> None:
        """SIGKILL: it gets no chance to tidy up."""
        assert self.process is not None
        assert self.process.returncode is None, "it ended by itself"
        self.process.kill()
        await self.process.wait()


async def test_no_answer_is_lost_and_none_counts_twice(tmp_path: Path) -> None:
    luck, clocks = random.Random(20260903), TwoClocks(datetime.now(UTC) - timedelta(minutes=20))
    async with StandIn(clocks.now, validator=check_request, limits=WIDE) as api:
        settings = Settings(
            _env_file=None,
            token=SecretStr(api.token),
            api_url=api.url,
            database=tmp_path / "class-effort.sqlite3",
            owner_code=SecretStr(OWNER_CODE),
        )
        room = Room(await prepare(settings, api, clocks), luck)
        clocks.real = True
        run = Run(settings, tmp_path / "journal")
        for kill in range(KILLS):
            await run.start()
            if kill % 3 == 2:  # also while it starts, and takes up what the last run left
                await asyncio.sleep(luck.uniform(0.5, 1.5))
            else:
                await until_it_works(api)
                with room.answering():
                    await asyncio.sleep(luck.uniform(0.1, 0.4))
            await run.kill()
        await run.start()
        await until_quiet(api, settings.database)
        await run.kill()

    assert api.invalid == []
    assert len(room.said) > 2 * MEMBERS, "nobody had time to answer: the test says nothing"
    with closing(sqlite3.connect(settings.database)) as connection:
        stored = connection.execute(STORED).fetchall()
        assert connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        assert connection.execute("PRAGMA foreign_key_check").fetchall() == []
        assert connection.execute(PARKED).fetchone() == (0,)
    assert {(account, question): value for account, question, value in stored} == room.said
    assert len(stored) == len(room.said)
    assert all(any(asked(m) or is_summary(m) for m in each.messages) for each in room.members)
    journal = (tmp_path / "journal").read_text()
    assert "Traceback" not in journal
    assert settings.token.get_secret_value() not in journal


STORED = """SELECT account, question, COALESCE(word, number) FROM answer
JOIN prompt ON prompt.id = prompt_id JOIN person ON person.id = person_id"""
PARKED = "SELECT count(*) FROM inbox WHERE parked_at IS NOT NULL"
WAITING = """SELECT (SELECT count(*) FROM inbox WHERE done_at IS NULL AND parked_at IS NULL)
+ (SELECT count(*) FROM outbox WHERE state IN ('queued', 'sending'))"""


async def prepare(settings: Settings, api: StandIn, clocks: TwoClocks) -> list[Person]:
    """A class that was over a few minutes ago, so that everyone is asked when the process starts.

    Its zone is chosen so that it is day there, whenever this runs.
    """
    offset = 12 - datetime.now(UTC).hour
    zone = f"Etc/GMT{-offset:+d}" if offset else "Etc/GMT"
    starts = (clocks.now() + timedelta(hours=offset, minutes=4)).replace(microsecond=0, tzinfo=None)
    plan = plan_text(
        starts=starts.isoformat(),
        rrule="FREQ=WEEKLY",
        timezone=zone,
        minutes=5,
        more="prompt_after = 0",
    )
    async with open_house(settings, clock=clocks.story, pace=DEMO_PACE) as house:
        evening = Evening(
            theatre=Theatre(api=api, house=house, clock=clocks.story),
            file=settings.database,
            instructor=api.person("Ines"),
        )
        await evening.found(plan)
        return await evening.join(*(f"Member {number}" for number in range(MEMBERS)))


class Room:
    """The members with what they have said, which is what must be stored in the end."""

    def __init__(self, members: list[Person], luck: random.Random) -> None:
        self.members = members
        self.said: dict[tuple[int, str], object] = {}
        self._luck = luck

    @contextmanager
    def answering(self) -> Iterator[None]:
        """While this lasts, they answer, change their minds, and answer again."""
        task = asyncio.create_task(self._answer())
        try:
            yield
        finally:
            task.cancel()

    async def _answer(self) -> None:
        while True:
            person = self._luck.choice(self.members)
            message = person.last_message
            question = asked(message)
            first = not any(account == person.person_id for account, _ in self.said)
            if question is not None and first and self._luck.random() < 0.5:
                self._type(person, str(question))
            elif question is not None or is_summary(message):
                self._press(person, message)
            await asyncio.sleep(self._luck.uniform(0.0, 0.03))

    def _type(self, person: Person, question: str) -> None:
        value = float(self._luck.randrange(9))
        person.say(f"{value:g}")
        self.said[person.person_id, question] = value

    def _press(self, person: Person, message: Message) -> None:
        """A button that is shown, or, when all is said, one from further up in the chat."""
        shown = buttons(message)
        choices = [each for each in shown if isinstance(each, AnswerButton)]
        if choices:
            chosen = self._luck.choice(choices)
        else:
            prompt = next(each.prompt for each in shown if isinstance(each, ShowButton))
            chosen = AnswerButton(prompt, SESSION, number=float(self._luck.randrange(11)))
        person.press_raw(message.message_id, chosen.write())
        value = chosen.word if chosen.number is None else chosen.number
        self.said[person.person_id, str(chosen.question)] = value


async def until_it_works(api: StandIn) -> None:
    """Wait until the new process has said hello and waits for updates, or takes some."""
    place = len(api.requests)

    def works() -> bool:
        new = [request.method for request in api.requests[place:]]
        return "getUpdates" in new or (bool(new) and api.world.updates.has_poller)

    await api.until(works, PATIENCE_SECONDS)


async def until_quiet(api: StandIn, file: Path) -> None:
    """Wait until everything that came in is handled, and everything is sent."""

    def quiet() -> bool:
        with closing(sqlite3.connect(file)) as connection:
            return api.pending == 0 and connection.execute(WAITING).fetchone() == (0,)

    await api.until(quiet, PATIENCE_SECONDS)
