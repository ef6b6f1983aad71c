"""Questions about chats and who is in them, and leaving one."""

from demo_script.stand_in import shapes
from demo_script.stand_in.methods.access import find_chat, writable_chat
from demo_script.stand_in.params import Params
from demo_script.stand_in.refusals import bad_request
from demo_script.stand_in.values import Json
from demo_script.stand_in.world import Account, Chat, Method, World


def get_chat(world: World, params: Params) -> Json:
    """All about a chat."""
    return shapes.full_chat(world, _visible(world, params))


def get_member(world: World, params: Params) -> Json:
    """How one account stands in a chat."""
    chat = _visible(world, params)
    account = world.accounts.get(params.number("user_id"))
    if account is None:
        raise bad_request("user not found")
    return shapes.standing(account, _status(world, chat, account))


def count_members(world: World, params: Params) -> int:
    """How many are in a chat, the bot included."""
    return len(_visible(world, params).account_ids) + 1


def get_administrators(world: World, params: Params) -> list[Json]:
    """Who has a say in a group: here its owner, and the bot if it was promoted."""
    chat = _visible(world, params)
    if chat.kind == "private":
        raise bad_request("there are no administrators in the private chat")
    everybody = [world.accounts[account_id] for account_id in chat.account_ids] + [world.bot]
    statuses = [(account, _status(world, chat, account)) for account in everybody]
    return [
        shapes.standing(account, status)
        for account, status in statuses
        if status in ("creator", "administrator")
    ]


def leave(world: World, params: Params) -> bool:
    """The bot goes by itself."""
    chat = writable_chat(world, params)
    if chat.kind == "private":
        raise bad_request("chat member status can't be changed in private chats")
    old, chat.bot_status = chat.bot_status, "left"
    change = shapes.standing_changed(world, chat, world.bot, old, "left")
    world.updates.add("my_chat_member", change)
    world.tell("leave", chat, world.bot)
    return True


def pin(world: World, params: Params) -> bool:
    """Pin a message; nothing is shown of it."""
    chat = writable_chat(world, params)
    if params.number("message_id") not in chat.messages:
        raise bad_request("message to pin not found")
    return True


def _visible(world: World, params: Params) -> Chat:
    """A chat the bot knows: it needn't be able to write there, but have been let in."""
    chat = find_chat(world, params)
    if chat.kind != "private":
        return writable_chat(world, params)
    return chat


def _status(world: World, chat: Chat, account: Account) -> str:
    if account is world.bot:
        return chat.bot_status
    if account.account_id not in chat.account_ids:
        return "left"
    owns = chat.kind != "private" and account.account_id == chat.account_ids[0]
    return "creator" if owns else "member"


METHODS: dict[str, Method] = {
    "getChat": get_chat,
    "getChatMember": get_member,
    "getChatMemberCount": count_members,
    "getChatAdministrators": get_administrators,
    "leaveChat": leave,
    "pinChatMessage": pin,
}
