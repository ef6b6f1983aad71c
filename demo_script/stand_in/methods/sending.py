"""Sending: texts, documents and pictures."""

from typing import Any

from demo_script.stand_in import shapes
from demo_script.stand_in.keyboards import inline_keyboard
from demo_script.stand_in.methods.access import find_chat, writable_chat
from demo_script.stand_in.params import Params
from demo_script.stand_in.refusals import bad_request
from demo_script.stand_in.styled import styled_caption, styled_text
from demo_script.stand_in.values import Json
from demo_script.stand_in.world import Chat, Method, World


def send_message(world: World, params: Params) -> Json:
    """A text."""
    text, entities = styled_text(params, world.limits)
    return _send(world, params, text=text, entities=entities)


def send_document(world: World, params: Params) -> Json:
    """Any file, shown with its name."""
    return _send_file(world, params, "document")


def send_photo(world: World, params: Params) -> Json:
    """A picture, shown as one."""
    return _send_file(world, params, "photo")


def send_chat_action(world: World, params: Params) -> bool:
    """ "typing…", for five seconds; nobody's story needs it."""
    writable_chat(world, params)
    if not params.given("action"):
        raise bad_request("wrong parameter action in request")
    return True


def _send_file(world: World, params: Params, kind: str) -> Json:
    if not params.given(kind):
        raise bad_request(f"there is no {kind} in the request")
    text, entities = styled_caption(params, world.limits)
    file = world.files.from_request(params, kind, params.text(kind))
    return _send(world, params, text=text, entities=entities, attachment=file)


def _send(world: World, params: Params, **parts: Any) -> Json:
    """Everything is checked before anything is counted, and counted before it's sent."""
    buttons = inline_keyboard(params, world.limits)
    chat = writable_chat(world, params)
    reply_to = _replied(chat, params)
    world.pacer.admit(chat.chat_id)
    message = world.post(
        chat,
        world.bot,
        buttons=buttons,
        reply_to=reply_to,
        protected=params.flag("protect_content"),
        **parts,
    )
    chat.bot_spoke = True
    return shapes.message(world, chat, message)


def _replied(chat: Chat, params: Params) -> int | None:
    """The message that is answered; None for most."""
    reply = params.parsed("reply_parameters")
    if not reply:
        return None
    message_id = int(reply.get("message_id", 0))
    if message_id in chat.messages:
        return message_id
    if reply.get("allow_sending_without_reply"):
        return None
    raise bad_request("message to be replied not found")


def delete_message(world: World, params: Params) -> bool:
    """Take a message away: the bot's own, or any in private, for 48 hours."""
    chat = find_chat(world, params)
    message = chat.messages.get(params.number("message_id"))
    if message is None:
        raise bad_request("message to delete not found")
    own = message.sender_id == world.bot.account_id
    may = own or chat.kind == "private"  # the bot never gets the right to delete in groups here
    if not may or world.now() - message.at > world.limits.deletable:
        raise bad_request("message can't be deleted for everyone")
    del chat.messages[message.message_id]
    world.tell("delete", chat, world.bot, message)
    return True


METHODS: dict[str, Method] = {
    "sendMessage": send_message,
    "sendDocument": send_document,
    "sendPhoto": send_photo,
    "sendChatAction": send_chat_action,
    "deleteMessage": delete_message,
}
