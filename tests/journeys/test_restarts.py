"""The bot is stopped and started again between any two steps, and nobody notices."""

from collections.abc import AsyncGenerator
from contextlib import AsyncExitStack
from dataclasses import dataclass, field
from datetime import timedelta
from pathlib import Path

import pytest

from bot.buttons import EstimateButton, JoinButton, LessonButton, ShowButton, VerdictButton, View
from bot.buttons.personal import DataButton, HurtButton, PauseButton
from bot.house import open_house
from bot.settings import Secret, Settings
from core.reports import SymptomKind
from core.verdict import Verdict
from demo_script.clock import PushedClock
from demo_script.stand_in import Person, StandIn
from demo_script.theatre import DEMO_PACE, OWNER_CODE, Theatre
from tests.demo_script.method_models import check_request
from tests.journeys.evening import (
    MONDAY,
    STARTS,
    USUAL,
    Evening,
    asked,
    data_of,
    is_summary,
)


@dataclass(slots=True)
class Lives:
    """A bot that is started anew again and again; what it knows is in its file."""

    settings: Settings
    api: StandIn
    clock: PushedClock
    _life: AsyncExitStack = field(default_factory=AsyncExitStack)

    async def begin(self) -> Theatre:
        """The next life."""
        opened = open_house(self.settings, clock=self.clock, pace=DEMO_PACE)
        house = await self._life.enter_async_context(opened)
        return Theatre(api=self.api, house=house, clock=self.clock)

    async def end(self) -> None:
        """Stop in order."""
        await self._life.aclose()


class Fragile:
    """A member whose bot doesn't live longer than one step."""

    def __init__(self, evening: Evening, lives: Lives) -> None:
        self.evening = evening
        self.lives = lives

    @property
    def ana(self) -> Person:
        """The member."""
        return self.evening.members["Ana"]

    async def restart(self) -> None:
        """Nothing is left but the file."""
        await self.lives.end()
        self.evening.theatre = await self.lives.begin()

    async def taps(self, data: str) -> None:
        """Press something under the last message, and start anew."""
        await self.evening.press(self.ana, data)
        await self.restart()

    async def says(self, text: str) -> None:
        """Write something, and start anew."""
        await self.evening.say(self.ana, text)
        await self.restart()


@pytest.fixture
async def fragile(tmp_path: Path) -> AsyncGenerator[Fragile]:
    """A group with one member, on a Monday."""
    clock = PushedClock(MONDAY)
    async with StandIn(clock.now, validator=check_request) as api:
        settings = Settings(
            token=Secret(api.token),
            api_url=api.url,
            database=tmp_path / "class-effort.sqlite3",
            owner_code=Secret(OWNER_CODE),
        )
        lives = Lives(settings, api, clock)
        evening = Evening(
            theatre=await lives.begin(),
            file=tmp_path / "class-effort.sqlite3",
            instructor=api.person("Ines"),
        )
        await evening.found()
        await evening.join("Ana")
        yield Fragile(evening, lives)
        await lives.end()
        assert api.invalid == []
        assert evening.rows("SELECT problem FROM inbox WHERE parked_at IS NOT NULL") == []


async def test_a_prompt_is_answered_across_restarts_by_button_and_by_typing(
    fragile: Fragile,
) -> None:
    await fragile.evening.class_is_over()
    await fragile.restart()
    prompt = fragile.ana.last_message
    await fragile.says("7,5")
    while (question := asked(fragile.ana.last_message)) is not None:
        value = USUAL[question.topic]
        if isinstance(value, str):
            await fragile.evening.answer(fragile.ana, str(question), value)
            await fragile.restart()
        else:
            await fragile.says(str(value))
    assert is_summary(fragile.ana.last_message)
    assert fragile.ana.last_message.message_id == prompt.message_id
    assert fragile.evening.answers(fragile.ana)["c"] == 7.5
    await fragile.taps(data_of(fragile.ana.last_message, ShowButton, view=View.ANSWERS))
    await fragile.taps(data_of(fragile.ana.last_message, ShowButton, view=View.SUMMARY))
    assert is_summary(fragile.ana.last_message)


async def test_joining_and_estimates_go_on_after_restarts(fragile: Fragile) -> None:
    evening, dana = fragile.evening, fragile.evening.api.person("Dana")
    evening.members["Ana"] = dana  # whoever taps from now on
    dana.open_link(evening.link)
    await evening.settle()
    await fragile.restart()
    await fragile.taps(data_of(dana.last_message, JoinButton, yes=True))
    await fragile.taps(data_of(dana.last_message, EstimateButton))
    for place in range(3):
        await fragile.taps(data_of(dana.last_message, EstimateButton, place=place, offer=1))
    assert evening.rows("SELECT count(*) FROM estimate") == [(3,)]
    assert "good start" in dana.last_message.text


async def test_a_question_that_is_typed_to_is_remembered(fragile: Fragile) -> None:
    await fragile.says("/pause")
    await fragile.says("20/9")
    assert fragile.evening.rows("SELECT ends_at FROM pause") == [("2026-09-19T23:00:00Z",)]
    await fragile.taps(data_of(fragile.ana.last_message, PauseButton, choice="end"))
    assert fragile.evening.rows("SELECT count(*) FROM pause") == [(0,)]


async def test_what_hurts_is_said_in_two_steps_with_a_restart_between(fragile: Fragile) -> None:
    await fragile.says("/hurt")
    pain = data_of(fragile.ana.last_message, HurtButton, symptom=SymptomKind.PAIN, group=None)
    await fragile.taps(pain)
    await fragile.taps(fragile.ana.last_message.buttons[0][0].data or "")
    assert fragile.evening.rows("SELECT kind, movement FROM symptom") == [("pain", "Side plank")]


async def test_a_lesson_and_a_verdict_are_finished_after_restarts(fragile: Fragile) -> None:
    await fragile.says("/scale")
    for place in range(4):
        await fragile.taps(data_of(fragile.ana.last_message, LessonButton, place=place))
        await fragile.taps(data_of(fragile.ana.last_message, LessonButton, tenths=70))
    assert "That is 10" in fragile.ana.last_message.text
    await fragile.evening.leap(STARTS + timedelta(minutes=20))
    await fragile.says("/variant")
    hard = data_of(fragile.ana.last_message, VerdictButton, verdict=Verdict.HARD)
    await fragile.taps(hard)
    await fragile.taps(data_of(fragile.ana.last_message, VerdictButton, place=2))
    assert fragile.evening.rows("SELECT word FROM verdict") == [("hard",)]


async def test_erasing_is_asked_before_a_restart_and_done_after_it(fragile: Fragile) -> None:
    await fragile.says("/mydata")
    await fragile.taps(data_of(fragile.ana.last_message, DataButton, choice="erase"))
    await fragile.taps(data_of(fragile.ana.last_message, DataButton, choice="yes"))
    assert "Done." in fragile.ana.last_message.text
    assert fragile.evening.mentions(fragile.ana) == []
