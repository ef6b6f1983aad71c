"""The class's own group chat: who is in it, what stands there, and what people tap."""

from dataclasses import dataclass
from datetime import timedelta

from bot.buttons import LinkButton, TapButton, UnlinkButton
from demo_script.stand_in import Group, Message, Person, Press
from tests.journeys.evening import Evening, buttons, data_of

TITLE = "Thursday people"


@dataclass(frozen=True, slots=True, kw_only=True)
class Chatroom:
    """One group chat with the bot in it."""

    evening: Evening
    group: Group

    @property
    def question(self) -> Message:
        """What the bot last asked in it."""
        return self.group.last_message

    @property
    def said(self) -> list[str]:
        """Everything that the bot has said in it, as it stands now."""
        bot = self.evening.api.world.bot.account_id
        return [each.text for each in self.group.messages if each.sender_id == bot]

    async def tap(self, person: Person, number: int | None, question: Message | None = None) -> str:
        """Tap a number, or None for "I wasn't there"; what only that person sees."""
        answer = (await self.press(person, number, question)).answer
        assert answer is not None
        return answer.text

    async def press(
        self, person: Person, number: int | None, question: Message | None = None
    ) -> Press:
        """The same, with everything that the app is told."""
        question = question or self.question
        return await self.evening.press(
            person, data_of(question, TapButton, number=number), question
        )

    async def wait(self, seconds: int = 20) -> None:
        """Let so much time pass."""
        await self.evening.leap(self.evening.now + timedelta(seconds=seconds))

    def edits(self) -> int:
        """How often the bot has changed something in this chat, or tried to."""
        return sum(
            each.method == "editMessageText"
            and str(each.params["chat_id"]) == str(self.group.group_id)
            for each in self.evening.api.requests
        )


async def open_chatroom(evening: Evening, *more: Person, by: Person | None = None) -> Chatroom:
    """Ines, or somebody else, makes a group chat with all members and the bot."""
    first = by or evening.instructor
    everybody = dict.fromkeys((first, evening.instructor, *evening.members.values(), *more))
    group = evening.api.group(TITLE, everybody)
    await evening.settle()
    return Chatroom(evening=evening, group=group)


async def link(evening: Evening, person: Person | None = None) -> Message:
    """Say yes to the one group that is offered; what stands there then."""
    person = person or evening.instructor
    await evening.press(person, data_of(person.last_message, LinkButton))
    return person.last_message


def is_offered(person: Person) -> bool:
    """Whether the last thing that the bot asked this person is whose chat it is."""
    return any(isinstance(each, LinkButton) for each in buttons(person.last_message))


def is_linked(person: Person) -> bool:
    """Whether the last thing that this person was told is that a chat is linked."""
    return any(isinstance(each, UnlinkButton) for each in buttons(person.last_message))
