"""The group chat that an update comes from, and what became of us there."""

from dataclasses import dataclass
from enum import Enum, auto

from telegram import Chat, ChatMember, ChatMemberRestricted, Update
from telegram.constants import ChatMemberStatus, ChatType

from core.names import tidy

NAMELESS = "?"
WRITERS = (ChatMemberStatus.MEMBER, ChatMemberStatus.ADMINISTRATOR, ChatMemberStatus.OWNER)


class Turn(Enum):
    """What became of us in a group chat."""

    ARRIVED = auto()
    """We may write there now, and couldn't before."""
    LOST = auto()
    """We can't write there any more."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """A group chat."""

    chat: int
    title: str
    """As it is called now, tidied."""
    thread: int
    """The topic that it came from; 0 where there is none."""
    is_public: bool
    """Whether anybody at all can look in, and press the buttons there."""
    turn: Turn | None = None
    """None unless the update is about us."""
    moved: tuple[int, int] | None = None
    """The chat's old id and its new one, if the update says that it changed."""


def place_of(update: Update) -> Place | None:
    """The group chat that an update comes from; None in private."""
    chat = update.effective_chat
    if chat is None or chat.type == ChatType.PRIVATE:
        return None
    message = update.message
    topic = message.message_thread_id if message and message.is_topic_message else None
    return Place(
        chat=chat.id,
        title=tidy(chat.title or "") or NAMELESS,
        thread=topic or 0,
        is_public=chat.username is not None,
        turn=_turn(update),
        moved=_moved(update, chat),
    )


def _turn(update: Update) -> Turn | None:
    change = update.my_chat_member
    if change is None or change.chat.type == ChatType.CHANNEL:
        return None
    before, now = _writes(change.old_chat_member), _writes(change.new_chat_member)
    if now:
        return None if before else Turn.ARRIVED
    return Turn.LOST


def _writes(us: ChatMember) -> bool:
    if isinstance(us, ChatMemberRestricted):
        return us.is_member and us.can_send_messages
    return us.status in WRITERS


def _moved(update: Update, chat: Chat) -> tuple[int, int] | None:
    message = update.message
    if message is None:
        return None
    if message.migrate_to_chat_id is not None:
        return chat.id, message.migrate_to_chat_id
    if message.migrate_from_chat_id is not None:
        return message.migrate_from_chat_id, chat.id
    return None
