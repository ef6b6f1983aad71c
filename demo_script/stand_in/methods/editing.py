"""Editing: a bot may change its own messages for ever, but not to what they are already."""

from typing import Any

from demo_script.stand_in import shapes
from demo_script.stand_in.entities import Entity
from demo_script.stand_in.keyboards import inline_keyboard
from demo_script.stand_in.limits import Limits
from demo_script.stand_in.methods.access import writable_chat
from demo_script.stand_in.params import Params
from demo_script.stand_in.refusals import Refusal, bad_request
from demo_script.stand_in.styled import styled_caption, styled_text
from demo_script.stand_in.values import Json, Message
from demo_script.stand_in.world import Chat, Method, World

NOT_MODIFIED = (
    "message is not modified: specified new message content and reply markup "
    "are exactly the same as a current content and reply markup of the message"
)


def edit_text(world: World, params: Params) -> Json:
    """Another text; the buttons go unless they come again."""
    chat, message = _own_message(world, params)
    if message.attachment is not None:
        raise bad_request("there is no text in the message to edit")
    text, entities = _text(params, world.limits)
    return _edit(world, params, chat, message, text=text, entities=entities)


def edit_caption(world: World, params: Params) -> Json:
    """Another text under the attachment."""
    chat, message = _own_message(world, params)
    if message.attachment is None:
        raise bad_request("there is no caption in the message to edit")
    text, entities = styled_caption(params, world.limits)
    return _edit(world, params, chat, message, text=text, entities=entities)


def edit_buttons(world: World, params: Params) -> Json:
    """Other buttons, or none, under the same text."""
    chat, message = _own_message(world, params)
    return _edit(world, params, chat, message)


def edit_media(world: World, params: Params) -> Json:
    """Another attachment with another caption."""
    chat, message = _own_message(world, params)
    media = params.parsed("media")
    if not isinstance(media, dict) or media.get("type") not in ("photo", "document"):
        raise bad_request("can't parse InputMedia: type must be photo or document here")
    text, entities = styled_caption(Params(media), world.limits)
    file = world.files.from_request(params, media["type"], str(media.get("media", "")))
    return _edit(world, params, chat, message, attachment=file, text=text, entities=entities)


def _own_message(world: World, params: Params) -> tuple[Chat, Message]:
    chat = writable_chat(world, params)
    if not params.given("message_id"):
        raise bad_request("message identifier is not specified")
    message = chat.messages.get(params.number("message_id"))
    if message is None or message.service:
        raise bad_request("message to edit not found")
    if message.sender_id != world.bot.account_id:
        raise bad_request("message can't be edited")
    return chat, message


def _text(params: Params, limits: Limits) -> tuple[str, tuple[Entity, ...]]:
    """An edit that is too long is refused in other words than a message that is too long."""
    try:
        return styled_text(params, limits)
    except Refusal as refusal:
        if refusal.description.endswith("message is too long"):
            raise bad_request("MESSAGE_TOO_LONG") from None
        raise


def _edit(world: World, params: Params, chat: Chat, message: Message, **parts: Any) -> Json:
    parts["buttons"] = inline_keyboard(params, world.limits)
    if all(getattr(message, name) == value for name, value in parts.items()):
        raise bad_request(NOT_MODIFIED)
    world.pacer.admit(chat.chat_id)  # an edit counts in its chat like a message
    return shapes.message(world, chat, world.change(chat, message, **parts))


METHODS: dict[str, Method] = {
    "editMessageText": edit_text,
    "editMessageCaption": edit_caption,
    "editMessageReplyMarkup": edit_buttons,
    "editMessageMedia": edit_media,
}
