"""Whatever people do, in whatever order: what is stored is what a simple model of it says."""

import asyncio
import logging
import tempfile
from collections.abc import Coroutine
from contextlib import AsyncExitStack
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    invariant,
    precondition,
    rule,
    run_state_machine_as_test,
)

from bot.buttons import AnswerButton, ShowButton
from bot.buttons.personal import DataButton
from bot.settings import Secret, Settings
from core.questions import SESSION
from demo_script.clock import PushedClock
from demo_script.stand_in import Person, StandIn
from demo_script.theatre import OWNER_CODE
from tests.demo_script.method_models import check_request
from tests.exploration.standstill import Troubles
from tests.journeys.evening import (
    MONDAY,
    PROMPTED,
    STARTS,
    WEEK,
    Evening,
    asked,
    buttons,
    is_summary,
)
from tests.journeys.test_restarts import Lives

NAMES = st.sampled_from(("Ana", "Ben", "Cleo"))
LUCK = st.integers(0, 2**16)
STORED = """SELECT account, opened_at, question, COALESCE(word, number) FROM answer
JOIN prompt ON prompt.id = prompt_id JOIN person ON person.id = person_id"""

Said = tuple[str, int, str]
"""Who, in which week, to which question."""


class WholeBot(RuleBasedStateMachine):
    """The real house over real HTTP, which is ended and begun anew, and people around it."""

    def __init__(self) -> None:
        super().__init__()
        self.runner = asyncio.Runner()
        self.stack = AsyncExitStack()
        self.log = Troubles()
        self.answers: dict[Said, object] = {}
        self.pressed: list[tuple[str, int, AnswerButton]] = []
        """Everything that was ever pressed, by whom and in which week."""
        self.week = -1
        self.blocked: set[str] = set()
        self.run(self._open())

    def run(self, work: Coroutine[Any, Any, None]) -> None:
        self.runner.run(work)

    async def _open(self) -> None:
        folder = self.stack.enter_context(tempfile.TemporaryDirectory())
        file = Path(folder) / "class-effort.sqlite3"
        clock = PushedClock(MONDAY)
        api = await self.stack.enter_async_context(StandIn(clock.now, validator=check_request))
        made = Settings(
            token=Secret(api.token),
            api_url=api.url,
            database=file,
            owner_code=Secret(OWNER_CODE),
        )
        self.lives = Lives(made, api, clock)
        self.evening = Evening(
            theatre=await self.lives.begin(), file=file, instructor=api.person("Ines")
        )
        logging.getLogger().addHandler(self.log)
        await self.evening.found()
        self.stranger = api.person("Stranger")

    def teardown(self) -> None:
        """End everything."""
        logging.getLogger().removeHandler(self.log)
        self.run(self.lives.end())
        self.run(self.stack.aclose())
        self.runner.close()

    # --- what people do --------------------------------------------------------------------

    @rule(name=NAMES)
    def joins(self, name: str) -> None:
        if name not in self.evening.members:
            self.run(self._join(name))

    async def _join(self, name: str) -> None:
        await self.evening.join(name)

    @precondition(lambda self: self.evening.members)
    @rule()
    def class_is_over(self) -> None:
        self.week += 1
        self.run(self.evening.class_is_over(self.week))
        for name, person in self.evening.members.items():
            if name not in self.blocked:
                last = person.last_message
                assert asked(last) is not None or is_summary(last), f"{name} was not asked"

    @precondition(lambda self: self.week >= 0)
    @rule(name=NAMES, number=LUCK)
    def answers_or_corrects(self, name: str, number: int) -> None:
        person = self._able(name)
        if person is None:
            return
        shown = buttons(person.last_message)
        choices = [each for each in shown if isinstance(each, AnswerButton)]
        if choices:
            self._press(name, person, choices[number % len(choices)])
        elif is_summary(person.last_message):
            prompt = next(each.prompt for each in shown if isinstance(each, ShowButton))
            self._press(name, person, AnswerButton(prompt, SESSION, number=float(number % 11)))

    @precondition(lambda self: self.week >= 0)
    @rule(name=NAMES, number=st.integers(0, 8))
    def types(self, name: str, number: int) -> None:
        person = self._able(name)
        question = None if person is None else asked(person.last_message)
        first = not any(who == name and week == self.week for who, week, _ in self.answers)
        if person is not None and question is not None and first:
            self.run(self._say(person, f"{number}"))
            self.answers[name, self.week, str(question)] = float(number)

    @precondition(lambda self: self.pressed)
    @rule(number=LUCK)
    def presses_an_old_button_again(self, number: int) -> None:
        name, week, button = self.pressed[number % len(self.pressed)]
        person = self._able(name)
        if person is not None:
            self.run(self._raw(person, button.write()))
            if week == self.week:
                self._note(name, button)

    @precondition(lambda self: self.pressed)
    @rule(number=LUCK, name=NAMES)
    def somebody_presses_anothers_button(self, number: int, name: str) -> None:
        owner, _, button = self.pressed[number % len(self.pressed)]
        person = self.stranger if name == owner else self._able(name)
        if person is not None:
            self.run(self._raw(person, button.write()))

    @rule(name=NAMES)
    def blocks(self, name: str) -> None:
        if self._able(name) is not None:
            self.evening.members[name].block()
            self.blocked.add(name)
            self.run(self.evening.settle())

    @rule(name=NAMES)
    def comes_back(self, name: str) -> None:
        if name in self.blocked:
            self.evening.members[name].press_start()
            self.blocked.discard(name)
            self.run(self.evening.settle())

    @rule(name=NAMES)
    def leaves_with_all_data(self, name: str) -> None:
        person = self._able(name)
        if person is not None:
            self.run(self._erase(person))
            del self.evening.members[name]
            self.answers = {key: value for key, value in self.answers.items() if key[0] != name}
            self.pressed = [each for each in self.pressed if each[0] != name]

    async def _erase(self, person: Person) -> None:
        await self.evening.say(person, "/mydata")
        for choice in ("erase", "yes"):
            shown = [each for each in buttons(person.last_message) if isinstance(each, DataButton)]
            data = next(each.write() for each in shown if each.choice == choice)
            await self.evening.press(person, data)

    # --- what happens to the bot -----------------------------------------------------------

    @rule()
    def starts_anew(self) -> None:
        self.run(self._restart())

    async def _restart(self) -> None:
        await self.lives.end()
        self.evening.theatre = await self.lives.begin()

    @rule(hours=st.integers(1, 30))
    def time_passes(self, hours: int) -> None:
        moment = self.evening.now + hours * (WEEK / 168)
        if moment < STARTS + (self.week + 1) * WEEK - WEEK / 168:
            self.run(self.evening.leap(moment))

    # --- what must be ----------------------------------------------------------------------

    @invariant()
    def what_is_stored_is_what_was_said(self) -> None:
        people = {each.person_id: name for name, each in self.evening.members.items()}
        rows = self.evening.rows(STORED)
        stored = {
            (people.get(int(str(account)), "nobody"), _week(str(opened)), str(question)): value
            for account, opened, question, value in rows
        }
        assert len(stored) == len(rows), "one answer is stored twice"
        assert stored == self.answers

    @invariant()
    def nothing_is_improper(self) -> None:
        assert self.evening.api.invalid == []
        assert self.evening.api.violations == 0
        assert [each for each in self.log.found if "Error" in each or "Traceback" in each] == []
        assert self.evening.rows("SELECT problem FROM inbox WHERE parked_at IS NOT NULL") == []
        assert self.evening.rows("SELECT id, reason FROM outbox WHERE state = 'failed'") == []

    # --- inside ----------------------------------------------------------------------------

    def _able(self, name: str) -> Person | None:
        return None if name in self.blocked else self.evening.members.get(name)

    def _press(self, name: str, person: Person, button: AnswerButton) -> None:
        self.run(self._raw(person, button.write(), person.last_message.message_id))
        self.pressed.append((name, self.week, button))
        self._note(name, button)

    def _note(self, name: str, button: AnswerButton) -> None:
        value = button.word if button.number is None else button.number
        self.answers[name, self.week, str(button.question)] = value

    async def _raw(self, person: Person, data: str, message: int = 1) -> None:
        press = person.press_raw(message, data)
        await self.evening.settle()
        assert press.answer is not None, f"nobody answered {data}"

    async def _say(self, person: Person, text: str) -> None:
        await self.evening.say(person, text)


def _week(opened: str) -> int:
    return round((datetime.fromisoformat(opened) - PROMPTED) / WEEK)


USUAL = settings(
    deadline=None,
    derandomize=True,
    database=None,
    suppress_health_check=list(HealthCheck),
)
FEW, MANY = (2, 15), (40, 30)
"""So many stories with so many steps each."""


@pytest.mark.parametrize("count", [FEW, pytest.param(MANY, marks=pytest.mark.long)])
def test_what_is_stored_is_what_the_model_says(count: tuple[int, int]) -> None:
    examples, steps = count
    chosen = settings(USUAL, max_examples=examples, stateful_step_count=steps)
    run_state_machine_as_test(WholeBot, settings=chosen)
