"""Members who tap and type at random, and remember what they have said."""

import asyncio
import random
import time
from collections import defaultdict
from collections.abc import Iterator
from contextlib import contextmanager

from bot.buttons import AnswerButton, ShowButton
from core.questions import SESSION
from demo_script.stand_in import Message, Person
from tests.journeys.evening import asked, buttons, is_summary

AT_ONCE, SECONDS_EACH = 20, 5.2
"""How much somebody says at once, and from then on: less than the bot puts away unread, and never
so much that nobody has anything left to say for minutes."""


class Room:
    """The members with what they have said, which is what must be stored in the end."""

    def __init__(
        self, members: list[Person], luck: random.Random, longest_pause: float = 0.03
    ) -> None:
        self.members = members
        self.said: dict[tuple[int, str], object] = {}
        self.times = 0
        """How often anybody has said anything."""
        self._luck = luck
        self._longest_pause = longest_pause
        self._spent: dict[int, float] = defaultdict(float)
        """Until when what each has said will have been made up for, by account."""

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
            if not self._has_said_enough(person):
                self._say_something(person)
            await asyncio.sleep(self._luck.uniform(0.0, self._longest_pause))

    def _has_said_enough(self, person: Person) -> bool:
        return self._spent[person.person_id] - time.monotonic() > (AT_ONCE - 1) * SECONDS_EACH

    def _say_something(self, person: Person) -> None:
        message = person.last_message
        question = asked(message)
        first = not any(account == person.person_id for account, _ in self.said)
        if question is not None and first and self._luck.random() < 0.5:
            self._type(person, str(question))
        elif question is not None or is_summary(message):
            self._press(person, message)

    def _type(self, person: Person, question: str) -> None:
        value = float(self._luck.randrange(9))
        person.say(f"{value:g}")
        self._note(person)
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
        self._note(person)
        value = chosen.word if chosen.number is None else chosen.number
        self.said[person.person_id, str(chosen.question)] = value

    def _note(self, person: Person) -> None:
        self.times += 1
        account = person.person_id
        self._spent[account] = max(self._spent[account], time.monotonic()) + SECONDS_EACH
