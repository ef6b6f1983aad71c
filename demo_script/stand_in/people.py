"""Simulated people: what they can do in their app, and what they see in it."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from demo_script.stand_in import shapes
from demo_script.stand_in.entities import units
from demo_script.stand_in.params import Upload
from demo_script.stand_in.presses import Press
from demo_script.stand_in.privacy import bot_sees
from demo_script.stand_in.styled import marked
from demo_script.stand_in.values import Message
from demo_script.stand_in.world import Account, Chat, World

if TYPE_CHECKING:
    from demo_script.stand_in.groups import Group

START_PARAMETER = re.compile(r"[A-Za-z0-9_-]{0,64}")  # apps drop a start link with anything else


class Person:
    """One account. Everything here happens at once; the bot hears of it through getUpdates."""

    def __init__(self, world: World, account: Account) -> None:
        self._world = world
        self.account = account

    @property
    def name(self) -> str:
        """The name the app shows."""
        return self.account.name

    @property
    def person_id(self) -> int:
        """The account's id, which is also the id of the private chat."""
        return self.account.account_id

    @property
    def private(self) -> Chat:
        """The chat with the bot."""
        return self._world.chats[self.person_id]

    @property
    def messages(self) -> tuple[Message, ...]:
        """The private chat as it looks now, oldest first."""
        return tuple(self.private.messages.values())

    @property
    def last_message(self) -> Message:
        """The newest message from the bot in the private chat."""
        return next(m for m in reversed(self.messages) if m.sender_id != self.person_id)

    # --- writing ---------------------------------------------------------------------------

    def press_start(self, payload: str = "") -> Message:
        """Press Start, or follow a start link; unblocks the bot if it was blocked."""
        if not START_PARAMETER.fullmatch(payload):
            raise ValueError(f"no app follows a start link with {payload!r}")
        if self.account.blocked:
            self.unblock()
        return self.say(f"/start {payload}".rstrip())

    def open_link(self, url: str) -> Message:
        """Follow `https://t.me/<bot>?start=<payload>`."""
        link = re.fullmatch(rf"https://t\.me/{self._world.bot.username}\?start=(.*)", url)
        if link is None:
            raise ValueError(f"not a start link of this bot: {url!r}")
        return self.press_start(link[1])

    def say(self, text: str, chat: Group | None = None, reply_to: Message | None = None) -> Message:
        """Type a message, in private or in a group."""
        if not text.strip() or units(text) > self._world.limits.text_units:
            raise ValueError("an app sends no empty message, and splits one that is too long")
        return self._write(chat, text=text, entities=marked(text), reply_to=_id(reply_to))

    def send_document(
        self,
        name: str,
        content: bytes,
        caption: str = "",
        reply_to: Message | None = None,
        mime: str = "application/octet-stream",
    ) -> Message:
        """Send a file in private."""
        upload = Upload(name=name, mime=mime, content=content)
        return self._write(
            None,
            text=caption,
            entities=marked(caption),
            attachment=self._world.files.store("document", upload),
            reply_to=_id(reply_to),
        )

    def rewrite(self, message: Message, text: str) -> Message:
        """Edit a message of one's own."""
        chat = self._world.chats[message.chat_id]
        changed = self._world.change(chat, message, text=text, entities=marked(text))
        shape = shapes.message(self._world, chat, changed)
        self._world.updates.add("edited_message", shape)
        return changed

    # --- pressing --------------------------------------------------------------------------

    def press(self, message: Message, label_or_data: str, *, accessible: bool = True) -> Press:
        """Press a button that is on the message's keyboard now."""
        chat = self._world.chats[message.chat_id]
        self._must_be_in(chat)
        if message.message_id not in chat.messages:
            raise LookupError("the message is gone")
        button = chat.messages[message.message_id].button(label_or_data)
        if button.data is None:
            raise LookupError(f"{button.label!r} sends nothing to the bot")
        return self._press(chat, message.message_id, button.label, button.data, accessible)

    def press_raw(
        self, message_id: int, data: str, chat: Group | None = None, *, accessible: bool = True
    ) -> Press:
        """A press that a tampered app makes up: any data, on any message."""
        place = chat.chat if chat else self.private
        return self._press(place, message_id, data, data, accessible)

    # --- coming and going ------------------------------------------------------------------

    def block(self) -> None:
        """Block the bot: from now on it's refused, and is told so once."""
        self._set_blocked(True)

    def unblock(self) -> None:
        """Let the bot write again."""
        self._set_blocked(False)

    def deactivate(self) -> None:
        """Delete the account; nobody is told."""
        self.account.deactivated = True

    # --- inside ----------------------------------------------------------------------------

    def _write(self, chat: Group | None, **parts: Any) -> Message:
        place = chat.chat if chat else self.private
        self._must_be_in(place)
        if place is self.private:
            if self.account.blocked:
                raise ValueError("who has blocked a bot can't write to it")
            self.account.started = True
        message = self._world.post(place, self.account, **parts)
        if bot_sees(self._world, place, message):
            self._world.updates.add("message", shapes.message(self._world, place, message))
        return message

    def _press(self, chat: Chat, message_id: int, label: str, data: str, accessible: bool) -> Press:
        world = self._world
        press = Press(
            query_id=str(world.luck.getrandbits(63)),
            at=world.now(),
            account_id=self.person_id,
            chat_id=chat.chat_id,
            message_id=message_id,
            data=data,
        )
        world.presses[press.query_id] = press
        shape = shapes.callback_query(world, press, accessible=accessible)
        world.updates.add("callback_query", shape)
        world.tell("press", chat, self.account, text=label, message_id=message_id)
        return press

    def _must_be_in(self, chat: Chat) -> None:
        if self.account.deactivated or self.person_id not in chat.account_ids:
            raise ValueError(f"{self.name} isn't in {chat.title!r}")

    def _set_blocked(self, blocked: bool) -> None:
        if self.account.blocked == blocked:
            return
        self.account.blocked = blocked
        old, new = ("member", "kicked") if blocked else ("kicked", "member")
        change = shapes.standing_changed(self._world, self.private, self.account, old, new)
        self._world.updates.add("my_chat_member", change)
        self._world.tell("block" if blocked else "unblock", self.private, self.account)


def _id(message: Message | None) -> int | None:
    return message.message_id if message else None
