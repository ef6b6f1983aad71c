"""A visit: someone wrote or pressed something; all that a job needs to see and to answer it."""

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime

from bot.chat.place import Place
from bot.desk.letters import Errand, change, say
from bot.desk.next_time import NextTimes
from bot.desk.voice import speech_to
from bot.storage.database import Database, Transaction
from bot.storage.outbox import Priority
from bot.storage.people import Person
from bot.tasks import Follow, Work
from bot.words.message import Message
from bot.words.speech import Speech, speech_for
from bot.words.toasts import Toast


@dataclass(frozen=True, slots=True, kw_only=True)
class Rooms:
    """What the jobs of the chat are built with."""

    database: Database
    now: Callable[[], datetime]
    username: str
    """The bot's own name in the chat, for links."""
    is_owner_code: Callable[[str], bool]
    """Whether this is the code that claims the bot."""
    next_times: NextTimes
    """What everybody does next time, worked out for those who finish answering at the same time."""
    follow: Follow
    """Takes over what may follow a visit."""


@dataclass(slots=True, kw_only=True)
class Visit:
    """One update from one account, inside the transaction that handles it."""

    tx: Transaction
    rooms: Rooms
    now: datetime
    came: datetime
    """When we heard of it: long ago, if we were stopped before it could be handled."""
    update_id: int
    account: int
    """Whose it is; also the id of their private chat with us."""
    person: Person | None
    """None for a stranger."""
    name: str
    """What they call themselves in the chat, tidied."""
    language: str | None
    """Of their chat, such as `de`; None if the chat API doesn't say."""
    text: str = ""
    """What they wrote."""
    data: str = ""
    """What the button they pressed carries; never trusted."""
    pressed: int | None = None
    """The message that the button is under."""
    status: str = ""
    """What they have become towards us in their private chat, such as `kicked` when they blocked
    us; empty if this is about something else."""
    place: Place | None = None
    """The group chat that it comes from; None in private."""
    brought: object = None
    """What was fetched from the chat API for this visit, before the transaction."""
    toast: Toast | None = None
    """What the presser sees at once."""
    opens: str | None = None
    """A link into our private chat that the presser is led to, in place of a toast."""
    new_commands: bool = False
    """Whether the menu of commands of this account has to change."""
    afterwards: Work | None = None
    """What may follow once all is committed and answered; nobody misses it after a kill."""
    _said: int = field(default=0)

    @property
    def speech(self) -> Speech:
        """How to speak to whoever is visiting."""
        return speech_for(self.language) if self.person is None else speech_to(self.person)

    async def say(self, message: Message, *, to: Person | None = None) -> None:
        """Queue a message to whoever is visiting, or to somebody else because of the visit."""
        chat = self.account if to is None else to.account
        priority = Priority.INTERACTIVE if to is None else Priority.DIGEST
        self._said += 1
        errand = Errand(id=f"reply/{self.update_id}/{self._said}", priority=priority)
        await say(self.tx, chat, message, errand, self.now)

    async def replace(self, message: Message) -> None:
        """Queue a change of the message whose button was pressed; say it anew if there is none."""
        if self.pressed is None:
            await self.say(message)
            return
        errand = Errand(id=f"reply/{self.update_id}/change")
        letter = f"message/{self.account}"
        await change(
            self.tx,
            self.account,
            message,
            errand,
            self.now,
            letter=letter,
            message_id=self.pressed,
        )
