"""The objects of the API as JSON: complete enough for strict clients to parse."""

from datetime import datetime

from demo_script.stand_in.entities import Entity
from demo_script.stand_in.presses import Press
from demo_script.stand_in.values import Attachment, Json, Message
from demo_script.stand_in.world import Account, Chat, World

ADMINISTRATOR_MAY = (
    "can_be_edited",
    "is_anonymous",
    "can_manage_chat",
    "can_delete_messages",
    "can_manage_video_chats",
    "can_restrict_members",
    "can_promote_members",
    "can_change_info",
    "can_invite_users",
    "can_post_stories",
    "can_edit_stories",
    "can_delete_stories",
    "can_send_welcome_messages",
)


def unix(moment: datetime) -> int:
    """Whole seconds: the API knows no finer time."""
    return int(moment.timestamp())


def user(account: Account) -> Json:
    """A `User`."""
    shape: Json = {
        "id": account.account_id,
        "is_bot": account.is_bot,
        "first_name": account.name,
    }
    if account.username:
        shape["username"] = account.username
    if not account.is_bot:
        shape["language_code"] = account.language
    return shape


def chat(world: World, place: Chat) -> Json:
    """A `Chat`: the person's name in private, the title elsewhere."""
    if place.kind != "private":
        shape: Json = {"id": place.chat_id, "type": place.kind, "title": place.title}
        if place.kind == "group":
            shape["all_members_are_administrators"] = False
        return shape
    account = world.accounts[place.chat_id]
    shape = {"id": place.chat_id, "type": "private", "first_name": account.name}
    if account.username:
        shape["username"] = account.username
    return shape


def full_chat(world: World, place: Chat) -> Json:
    """A `ChatFullInfo`."""
    return chat(world, place) | {
        "accent_color_id": 0,
        "max_reaction_count": 11,
        "accepted_gift_types": {
            "unlimited_gifts": False,
            "limited_gifts": False,
            "unique_gifts": False,
            "premium_subscription": False,
            "gifts_from_channels": False,
        },
        "permissions": {"can_send_messages": True},
    }


def message(world: World, place: Chat, value: Message, *, with_reply: bool = True) -> Json:
    """A `Message`; a reply carries the message it answers, one level deep."""
    shape: Json = {
        "message_id": value.message_id,
        "date": unix(value.at),
        "chat": chat(world, place),
        "from": user(world.accounts[value.sender_id]),
        **value.service,
    }
    if value.edited_at is not None:
        shape["edit_date"] = unix(value.edited_at)
    replied = place.messages.get(value.reply_to) if value.reply_to else None
    if replied is not None and with_reply:
        shape["reply_to_message"] = message(world, place, replied, with_reply=False)
    if value.protected:
        shape["has_protected_content"] = True
    shape |= _content(value)
    if value.buttons:
        rows = [[dict(button.raw) for button in row] for row in value.buttons]
        shape["reply_markup"] = {"inline_keyboard": rows}
    return shape


def _content(value: Message) -> Json:
    entities = [entity(one) for one in value.entities]
    if value.attachment is None:
        shape: Json = {"text": value.text} if value.text else {}
        return shape | ({"entities": entities} if entities else {})
    shape = attachment(value.attachment)
    if value.text:
        shape["caption"] = value.text
    if entities:
        shape["caption_entities"] = entities
    return shape


def entity(value: Entity) -> Json:
    """A `MessageEntity`."""
    shape: Json = {"type": value.kind, "offset": value.offset, "length": value.length}
    if value.url is not None:
        shape["url"] = value.url
    if value.language is not None:
        shape["language"] = value.language
    return shape


def file(value: Attachment) -> Json:
    """What all kinds of files have in common."""
    return {
        "file_id": value.file_id,
        "file_unique_id": value.file_id[-12:],
        "file_size": len(value.content),
    }


def attachment(value: Attachment) -> Json:
    """The field of a message that holds its file; a picture comes in one size only."""
    if value.kind == "photo":
        return {"photo": [file(value) | {"width": value.width, "height": value.height}]}
    return {"document": file(value) | {"file_name": value.name, "mime_type": value.mime}}


def inaccessible(world: World, place: Chat, message_id: int) -> Json:
    """An `InaccessibleMessage`: the date 0 says that nothing more is known of it."""
    return {"chat": chat(world, place), "message_id": message_id, "date": 0}


def callback_query(world: World, press: Press, *, accessible: bool) -> Json:
    """A `CallbackQuery`; the message is inaccessible if it's gone or too old."""
    place = world.chats[press.chat_id]
    value = place.messages.get(press.message_id) if accessible else None
    return {
        "id": press.query_id,
        "from": user(world.accounts[press.account_id]),
        "chat_instance": str(abs(place.chat_id) * 7919),
        "data": press.data,
        "message": message(world, place, value)
        if value
        else inaccessible(world, place, press.message_id),
    }


def standing(account: Account, status: str) -> Json:
    """A `ChatMember` in one of its forms."""
    shape: Json = {"status": status, "user": user(account)}
    if status == "kicked":
        shape["until_date"] = 0  # for ever
    elif status == "creator":
        shape["is_anonymous"] = False
    elif status == "administrator":
        shape |= dict.fromkeys(ADMINISTRATOR_MAY, False) | {"can_manage_chat": True}
    return shape


def standing_changed(world: World, place: Chat, by: Account, old: str, new: str) -> Json:
    """A `ChatMemberUpdated` about the bot itself."""
    return {
        "chat": chat(world, place),
        "from": user(by),
        "date": unix(world.now()),
        "old_chat_member": standing(world.bot, old),
        "new_chat_member": standing(world.bot, new),
    }
