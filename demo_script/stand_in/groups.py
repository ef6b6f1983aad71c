"""Simulated groups: who is in them, and what happens to the group itself."""

from collections.abc import Iterable

from demo_script.stand_in import shapes
from demo_script.stand_in.people import Person
from demo_script.stand_in.values import Json, Message
from demo_script.stand_in.world import Account, Chat, World


class Group:
    """A group with the bot in it; the first of its people owns it and has added the bot."""

    def __init__(self, world: World, title: str, people: Iterable[Person]) -> None:
        self._world = world
        accounts = [person.account for person in people]
        self.chat: Chat = world.new_chat("group", title, [a.account_id for a in accounts])
        self.chat.bot_status = "left"
        self._set_bot(accounts[0], "member")
        self._announce(accounts[0], {"new_chat_members": [shapes.user(world.bot)]})

    @property
    def group_id(self) -> int:
        """The id now; it changes once, when the group becomes a supergroup."""
        return self.chat.chat_id

    @property
    def messages(self) -> tuple[Message, ...]:
        """What everybody in the group sees, oldest first, without service messages."""
        return tuple(m for m in self.chat.messages.values() if not m.service)

    @property
    def last_message(self) -> Message:
        """The newest message from the bot."""
        bot_id = self._world.bot.account_id
        return next(m for m in reversed(self.messages) if m.sender_id == bot_id)

    def add(self, person: Person) -> None:
        """Somebody joins."""
        self.chat.account_ids.append(person.person_id)
        self._announce(person.account, {"new_chat_members": [shapes.user(person.account)]})
        self._world.tell("join", self.chat, person.account)

    def remove(self, person: Person) -> None:
        """Somebody leaves."""
        self.chat.account_ids.remove(person.person_id)
        self._announce(person.account, {"left_chat_member": shapes.user(person.account)})
        self._world.tell("leave", self.chat, person.account)

    def remove_bot(self) -> None:
        """The owner puts the bot out."""
        self._set_bot(self._owner, "kicked")

    def add_bot(self) -> None:
        """The owner takes the bot in again."""
        self._set_bot(self._owner, "member")

    def promote_bot(self) -> None:
        """The bot gets a say in the group, and with it sees every message."""
        self._set_bot(self._owner, "administrator")

    def upgrade(self) -> None:
        """The group becomes a supergroup: another id, and both sides are told."""
        old = self.chat
        new = self._world.new_chat("supergroup", old.title, old.account_ids)
        new.bot_status, new.bot_spoke = old.bot_status, old.bot_spoke
        self._announce(self._owner, {"migrate_to_chat_id": new.chat_id})
        old.upgraded_to = new.chat_id
        self.chat = new
        self._announce(self._owner, {"migrate_from_chat_id": old.chat_id})
        self._world.tell("upgrade", new, self._owner)

    @property
    def _owner(self) -> Account:
        return self._world.accounts[self.chat.account_ids[0]]

    def _announce(self, by: Account, service: Json) -> None:
        """A service message: bots see these whatever their privacy mode."""
        message = self._world.post(self.chat, by, service=service)
        if self.chat.bot_status not in ("left", "kicked"):
            shape = shapes.message(self._world, self.chat, message)
            self._world.updates.add("message", shape)

    def _set_bot(self, by: Account, status: str) -> None:
        old, self.chat.bot_status = self.chat.bot_status, status
        change = shapes.standing_changed(self._world, self.chat, by, old, status)
        self._world.updates.add("my_chat_member", change)
        kind = "leave" if status in ("left", "kicked") else "join"
        self._world.tell(kind, self.chat, self._world.bot)
