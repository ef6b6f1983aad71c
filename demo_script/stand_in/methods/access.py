"""Where a bot may write: the refusals that come before anything is sent."""

from demo_script.stand_in.params import Params
from demo_script.stand_in.refusals import bad_request, forbidden, upgraded
from demo_script.stand_in.world import Chat, World

KIND_NAMES = {"group": "group chat", "supergroup": "supergroup chat"}


def find_chat(world: World, params: Params) -> Chat:
    """The chat that a request names. Usernames would name channels, and there are none here."""
    if not params.given("chat_id"):
        raise bad_request("chat_id is empty")
    chat = world.chats.get(params.number("chat_id"))
    if chat is None:
        raise bad_request("chat not found")
    return chat


def writable_chat(world: World, params: Params) -> Chat:
    """The chat that a request names, if the bot may write there."""
    chat = find_chat(world, params)
    if chat.kind == "private":
        _must_be_open(world, chat)
    elif chat.upgraded_to is not None:
        raise upgraded(chat.upgraded_to)
    elif chat.bot_status == "kicked":
        raise forbidden(f"bot was kicked from the {KIND_NAMES[chat.kind]}")
    elif chat.bot_status == "left":
        raise forbidden(f"bot is not a member of the {KIND_NAMES[chat.kind]}")
    return chat


def _must_be_open(world: World, chat: Chat) -> None:
    account = world.accounts[chat.chat_id]
    if account.deactivated:
        raise forbidden("user is deactivated")
    if account.blocked:
        raise forbidden("bot was blocked by the user")
    if not account.started:  # a bot may only answer whoever has written first
        raise forbidden("bot can't initiate conversation with a user")
