"""One group and its evenings: what people do, in the words that the stories use."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import TypeVar

from bot.buttons import AnswerButton, Button, JoinButton, ShowButton, View, read_button
from bot.place import Server
from core.questions import Question, Topic
from demo_script.stand_in import Message, Person, Press, StandIn
from demo_script.theatre import OWNER_CODE, Theatre
from tests.journeys.plans import plan_text
from tests.looking import rows, tables

MONDAY = datetime(2026, 8, 31, 12, 0, tzinfo=UTC)
STARTS = datetime(2026, 9, 3, 17, 30, tzinfo=UTC)  # Thursday, 18:30 in Lisbon
ENDS = STARTS + timedelta(minutes=50)
PROMPTED = ENDS + timedelta(minutes=10)
WEEK = timedelta(weeks=1)

OWN_AFFAIRS = ("inbox", "outbox", "pulse")
"""Tables that change with every update, whatever it says."""

SomeButton = TypeVar("SomeButton", bound=Button)


@dataclass(slots=True, kw_only=True)
class Evening:
    """The stage, and who is on it."""

    theatre: Theatre
    file: Path
    server: Server | None = None
    """Where everything is kept instead of in the file, if it is."""
    instructor: Person
    members: dict[str, Person] = field(default_factory=dict)
    link: str = ""

    @property
    def api(self) -> StandIn:
        """The chat service."""
        return self.theatre.api

    @property
    def now(self) -> datetime:
        """What the bot's clock shows."""
        return self.theatre.clock.now()

    # --- what happens ----------------------------------------------------------------------

    async def settle(self) -> None:
        """Let the bot do what it has to do now."""
        await self.theatre.settle()

    async def leap(self, moment: datetime) -> None:
        """Let time pass."""
        await self.theatre.leap(moment)

    async def claim(self) -> None:
        """The instructor makes the bot theirs."""
        self.instructor.press_start(OWNER_CODE)
        await self.settle()

    async def upload(self, plan: str, name: str = "plan.toml", caption: str = "") -> Message:
        """The instructor sends a plan file; what the bot says to it, pictures aside."""
        self.instructor.send_document(name, plan.encode(), caption)
        await self.settle()
        said = next(each for each in reversed(self.instructor.messages) if not each.attachment)
        links = (re.search(r"https://t\.me/\S+", each.text) for each in self.instructor.messages)
        self.link = next((found[0] for found in reversed(list(links)) if found), self.link)
        return said

    async def found(self, plan: str | None = None) -> None:
        """The bot is claimed, and a group made."""
        await self.claim()
        await self.upload(plan or plan_text())

    async def join(self, *names: str, language: str = "en") -> list[Person]:
        """These people follow the link, read the terms and agree."""
        joined = [self.api.person(name, language) for name in names]
        for person in joined:
            person.open_link(self.link)
        await self.settle()
        for person in joined:
            agree(person)
        await self.settle()
        self.members |= {person.name: person for person in joined}
        return joined

    async def class_is_over(self, week: int = 0) -> None:
        """The next class has ended, and everyone has been asked; counted from the first."""
        await self.leap(PROMPTED + week * WEEK)

    async def press(self, person: Person, data: str, message: Message | None = None) -> Press:
        """Press a button by what it carries, and let the bot answer."""
        press = person.press(message or person.last_message, data)
        await self.settle()
        assert press.answer is not None, f"nobody answered the press of {data}"
        return press

    async def say(self, person: Person, text: str) -> Message:
        """Write to the bot; what it last said then."""
        person.say(text)
        await self.settle()
        return person.last_message

    async def answer(self, person: Person, question: str, value: float | str) -> Press:
        """Press the button for this answer under the newest question."""
        return await self.press(person, answer_data(person.last_message, question, value))

    async def answer_all(self, person: Person, **given: float | str) -> None:
        """Answer every question: by its short name as given, or else by topic as a middling day."""
        while (question := asked(person.last_message)) is not None:
            value = given.get(str(question), given.get(question.topic, USUAL[question.topic]))
            await self.answer(person, str(question), value)

    # --- what is stored --------------------------------------------------------------------

    def rows(self, sql: str, *values: object) -> list[tuple[object, ...]]:
        """What the database says."""
        return rows(self.server or self.file, sql, *values)

    def answers(self, person: Person) -> dict[str, object]:
        """What is stored of this person's answers about their last class, by question."""
        found = self.rows(
            """SELECT question, word, number FROM answer
            JOIN prompt ON prompt.id = prompt_id JOIN person ON person.id = person_id
            WHERE account = ? AND opened_at = (SELECT max(opened_at) FROM prompt
                WHERE person_id = person.id)""",
            person.person_id,
        )
        return {str(question): number if word is None else word for question, word, number in found}

    def dump(self, *without: str) -> dict[str, list[tuple[object, ...]]]:
        """Everything in the database but the post's own affairs, to be compared."""
        names = tables(self.server or self.file)
        kept = [name for name in names if name not in (*OWN_AFFAIRS, *without)]
        return {name: sorted(self.rows(f"SELECT * FROM {name}"), key=repr) for name in kept}  # noqa: S608

    def mentions(self, person: Person) -> list[str]:
        """The tables, apart from the post's, that hold this person's account."""
        dumped = self.dump()
        return [name for name, rows in dumped.items() if any(person.person_id in r for r in rows)]


USUAL: dict[Topic, float | str] = {
    Topic.SESSION: 7,
    Topic.EFFORT: 7,
    Topic.COMPLETED: "skipped",
    Topic.RESERVE: 5,
    Topic.HURT: "fine",
    Topic.WHERE: "general",
}


def agree(person: Person) -> Press:
    """Press the button that agrees to the terms."""
    return person.press(person.last_message, data_of(person.last_message, JoinButton, yes=True))


def buttons(message: Message) -> list[Button]:
    """Everything that could be pressed, as the bot reads it."""
    data = [each.data for row in message.buttons for each in row if each.url is None]
    found = [read_button(each or "") for each in data]
    assert None not in found, f"a button that the bot can't read: {data}"
    return [each for each in found if each is not None]


def button(message: Message, kind: type[SomeButton], **having: object) -> SomeButton:
    """The one button of that kind with these values."""
    fitting = [
        each
        for each in buttons(message)
        if isinstance(each, kind) and all(getattr(each, k) == v for k, v in having.items())
    ]
    assert len(fitting) == 1, f"{len(fitting)} of {kind.__name__} {having} under {message.text!r}"
    return fitting[0]


def data_of(message: Message, kind: type[Button], **having: object) -> str:
    """What that button carries."""
    return button(message, kind, **having).write()


def answer_data(message: Message, question: str, value: float | str) -> str:
    """What the button with this answer to this question carries."""
    having = {"word": value} if isinstance(value, str) else {"number": float(value)}
    return data_of(message, AnswerButton, question=Question.read(question), **having)


def asked(message: Message) -> Question | None:
    """The question that a message asks; None if it asks none."""
    questions = {each.question for each in buttons(message) if isinstance(each, AnswerButton)}
    assert len(questions) <= 1, f"two questions in one message: {questions}"
    return next(iter(questions), None)


def is_summary(message: Message) -> bool:
    """Whether all is said, and may be changed."""
    shown = buttons(message)
    return [each for each in shown if isinstance(each, ShowButton)] == shown and any(
        isinstance(each, ShowButton) and each.view is View.ANSWERS for each in shown
    )


def sent_to(api: StandIn, person: Person, since: int = 0) -> list[str]:
    """The texts of the new messages that somebody got, from that place in the log on."""
    return [
        event.text
        for event in api.log[since:]
        if event.direction == "out"
        and event.kind == "message"
        and event.chat_id == person.person_id
    ]


def texts(people: Sequence[Person]) -> list[str]:
    """The last thing that the bot said to each."""
    return [person.last_message.text for person in people]
