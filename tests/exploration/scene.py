"""Where a member is before they begin to press: how they came there, in a few words."""

import re
from collections.abc import AsyncGenerator
from contextlib import asynccontextmanager
from dataclasses import dataclass

from bot.buttons import AnswerButton, Button, ClearButton, JoinButton, LinkButton, read_button
from core.questions import Topic
from demo_script.stand_in import Message, Person
from demo_script.theatre import OWNER_CODE
from tests.exploration.standstill import Standstill, open_standstill
from tests.journeys.evening import MONDAY, PROMPTED, STARTS, WEEK, asked, data_of
from tests.journeys.plans import plan_text

Value = float | str
MIDDLING: dict[Topic, Value] = {
    Topic.SESSION: 7,
    Topic.EFFORT: 7,
    Topic.RESERVE: 5,
    Topic.HURT: "fine",
    Topic.WHERE: 0,
}


@dataclass(slots=True, kw_only=True)
class Scene:
    """One instructor and one member, with everything between them in one place."""

    still: Standstill
    instructor: Person
    member: Person
    link: str = ""

    async def found(self, plan: str) -> None:
        """The bot is claimed, if it wasn't, and a group made."""
        if not self.link:
            self.instructor.press_start(OWNER_CODE)
            await self.still.work()
        self.instructor.send_document("plan.toml", plan.encode())
        await self.still.work()
        said = " ".join(each.text for each in self.instructor.messages)
        self.link = re.findall(r"https://t\.me/\S+start=\S+", said)[-1]

    async def join(self) -> None:
        """The member follows the link and agrees."""
        self.member.open_link(self.link)
        await self.still.work()
        await self.press(JoinButton, yes=True)

    async def open_group_chat(self) -> None:
        """The class has a chat of its own, and the bot asks there too."""
        await self.offer_group_chat()
        data = data_of(self.instructor.last_message, LinkButton)
        await self.still.press(self.instructor, self.instructor.last_message, data)

    async def offer_group_chat(self) -> None:
        """The instructor has added the bot to a chat, and is asked whose it is."""
        group = self.still.api.group("Thursday people", [self.instructor, self.member])
        self.still.groups[group.group_id] = group
        await self.still.work()

    async def class_is_over(self, week: int = 0) -> None:
        """The class of that week has been told before, and is asked about."""
        await self.still.leap(STARTS + week * WEEK - (PROMPTED - STARTS))
        await self.still.leap(PROMPTED + week * WEEK)

    async def say(self, text: str) -> None:
        """The member writes something."""
        await self.still.say(self.member, text)

    async def press(
        self, kind: type[Button], message: Message | None = None, **having: object
    ) -> None:
        """The member presses the one button of that kind with these values."""
        message = message or self.member.last_message
        await self.still.press(self.member, message, data_of(message, kind, **having))

    async def answer_all(self, **given: Value) -> None:
        """The member answers everything: by the question's short name as given, or middlingly."""
        message = self.member.last_message
        while (question := asked(message)) is not None:
            value = given.get(str(question), given.get(question.topic, MIDDLING[question.topic]))
            having = {"word": value} if isinstance(value, str) else {"number": float(value)}
            await self.press(AnswerButton, message, question=question, **having)
            message = self.member.private.messages[message.message_id]

    async def tell(self, text: str) -> None:
        """The instructor writes something."""
        await self.still.say(self.instructor, text)

    async def send(self, name: str, text: str) -> None:
        """The instructor sends a file."""
        self.instructor.send_document(name, text.encode())
        await self.still.work()

    def newest(self, kind: type[Button]) -> Message:
        """The instructor's newest message with such a button."""
        return next(
            each
            for each in reversed(self.instructor.messages)
            if any(
                isinstance(read_button(key.data or ""), kind) for row in each.buttons for key in row
            )
        )

    async def tap(self, kind: type[Button], **having: object) -> None:
        """The instructor presses the one button of that kind with these values."""
        message = self.newest(kind)
        await self.still.press(self.instructor, message, data_of(message, kind, **having))

    async def tap_first(self, kind: type[Button], **having: object) -> None:
        """The instructor presses the first of such buttons."""
        message = self.newest(kind)
        read = [read_button(key.data or "") for row in message.buttons for key in row]
        first = next(
            each
            for each in read
            if isinstance(each, kind) and all(getattr(each, k) == v for k, v in having.items())
        )
        await self.still.press(self.instructor, message, first.write())

    def link_given(self) -> str:
        """The newest link that the instructor was given."""
        said = " ".join(each.text for each in self.instructor.messages)
        return str(re.findall(r"https://t\.me/\S+start=\S+", said)[-1])

    def clear_the_desk(self) -> None:
        """What the instructor was told until now is out of sight."""
        self.instructor.private.messages.clear()

    async def instructor_clears(self) -> None:
        """The instructor says that what was reported may get harder again."""
        last = self.instructor.last_message
        await self.still.press(self.instructor, last, data_of(last, ClearButton))

    def clear_the_screen(self) -> None:
        """What was said until now is out of sight."""
        self.member.private.messages.clear()


@asynccontextmanager
async def open_scene(plan: str | None = None) -> AsyncGenerator[Scene]:
    """A member of a group that meets on Thursdays, with nothing on screen."""
    async with open_standstill(MONDAY) as still:
        scene = Scene(
            still=still, instructor=still.api.person("Ines"), member=still.api.person("Ana")
        )
        await scene.found(plan or plan_text())
        await scene.join()
        scene.clear_the_screen()
        scene.clear_the_desk()
        yield scene
