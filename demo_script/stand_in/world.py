"""Everything the stand-in knows: people, chats, messages, presses, and the one clock."""

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from datetime import datetime
from random import Random
from typing import Any

from demo_script.stand_in.files import Files
from demo_script.stand_in.limits import Limits, Pacer
from demo_script.stand_in.log import Event, Log
from demo_script.stand_in.params import Params
from demo_script.stand_in.presses import Press
from demo_script.stand_in.updates import Updates
from demo_script.stand_in.values import Json, Message

FIRST_PERSON_ID = 700_000_001
FIRST_GROUP_ID = -400_000_001
FIRST_SUPERGROUP_ID = -1_001_000_000_001  # a supergroup's id has thirteen digits


@dataclass(slots=True)
class Account:
    """A person's account, or the bot's own."""

    account_id: int
    name: str
    username: str | None = None
    language: str = "en"
    is_bot: bool = False
    started: bool = False
    """Has opened the conversation; before that a bot can't write to them."""
    blocked: bool = False
    """Has blocked the bot."""
    deactivated: bool = False
    """The account is gone."""


@dataclass(slots=True)
class Chat:
    """A private chat with the bot, a group, or a supergroup."""

    chat_id: int
    kind: str
    """`private`, `group` or `supergroup`."""
    title: str
    account_ids: list[int] = field(default_factory=list)
    """The people in it, its owner first; the bot isn't listed."""
    bot_status: str = "member"
    """`member`, `administrator`, `left` or `kicked`."""
    bot_spoke: bool = False
    """Whether the bot has written here: then it also sees plain commands."""
    upgraded_to: int | None = None
    """The supergroup that this group became; None as long as it lives."""
    last_message_id: int = 0
    """Of a supergroup; other chats share the world's counter."""
    messages: dict[int, Message] = field(default_factory=dict)


class World:
    """The state behind the API. Every moment in it comes from `now`."""

    def __init__(
        self, now: Callable[[], datetime], bot_id: int, username: str, limits: Limits
    ) -> None:
        self.now = now
        self.limits = limits
        self.bot = Account(bot_id, username, username, is_bot=True)
        self.accounts: dict[int, Account] = {bot_id: self.bot}
        self.chats: dict[int, Chat] = {}
        self.presses: dict[str, Press] = {}
        self.commands: dict[tuple[object, ...], list[Json]] = {}
        self.about: dict[str, str] = {}
        """Name, description and short description, by language."""
        self.luck = Random(username)
        self._last_message_id = 0
        self.updates = Updates(now, limits, username)
        self.pacer = Pacer(now, limits)
        self.files = Files(limits)
        self.log = Log()

    # --- who and where ---------------------------------------------------------------------

    def new_account(self, name: str, username: str | None, language: str) -> Account:
        """A person, with a private chat that isn't open yet."""
        account_id = FIRST_PERSON_ID + len(self.accounts) - 1
        account = Account(account_id, name, username, language)
        self.accounts[account_id] = account
        self.chats[account_id] = Chat(account_id, "private", name, [account_id])
        return account

    def new_chat(self, kind: str, title: str, account_ids: list[int]) -> Chat:
        """A group or supergroup; the first of the people owns it."""
        first = FIRST_SUPERGROUP_ID if kind == "supergroup" else FIRST_GROUP_ID
        chat = Chat(first - len(self.chats), kind, title, account_ids)
        self.chats[chat.chat_id] = chat
        return chat

    # --- messages --------------------------------------------------------------------------

    def post(self, chat: Chat, sender: Account, **parts: Any) -> Message:
        """Put a new message into a chat and into the log."""
        message = Message(
            message_id=self._next_message_id(chat),
            chat_id=chat.chat_id,
            sender_id=sender.account_id,
            at=self.now(),
            **parts,
        )
        chat.messages[message.message_id] = message
        if not message.service:
            self.tell("message", chat, sender, message)
        return message

    def change(self, chat: Chat, message: Message, **parts: Any) -> Message:
        """Replace a message by its edited self."""
        changed = replace(message, edits=message.edits + 1, edited_at=self.now(), **parts)
        chat.messages[message.message_id] = changed
        self.tell("edit", chat, self.accounts[message.sender_id], changed)
        return changed

    def tell(
        self,
        kind: str,
        chat: Chat,
        who: Account,
        message: Message | None = None,
        *,
        text: str = "",
        message_id: int | None = None,
    ) -> None:
        """Write one event into the log."""
        attachment = message.attachment if message else None
        self.log.add(
            Event(
                at=self.now(),
                kind=kind,
                direction="out" if who.is_bot else "in",
                who=who.name,
                chat=chat.title,
                chat_id=chat.chat_id,
                text=text or (message.text if message else ""),
                buttons=message.labels if message else (),
                file=attachment.name if attachment else None,
                message_id=message.message_id if message else message_id,
            )
        )

    def _next_message_id(self, chat: Chat) -> int:
        """Supergroups count for themselves; all other chats of a bot share one counter."""
        if chat.kind == "supergroup":
            chat.last_message_id += 1
            return chat.last_message_id
        self._last_message_id += 1
        return self._last_message_id


Method = Callable[[World, Params], object]
"""One thing that can be asked of the API: does it, and returns what the answer carries."""
