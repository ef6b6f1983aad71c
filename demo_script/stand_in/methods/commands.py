"""The command menu: one list for each scope and language."""

import re

from demo_script.stand_in.params import Params
from demo_script.stand_in.refusals import bad_request
from demo_script.stand_in.values import Json
from demo_script.stand_in.world import Method, World

NAME = re.compile(r"/?[a-z0-9_]{1,32}")  # the leading slash is forgiven
LANGUAGE = re.compile(r"([a-z]{2})?")
LONGEST_DESCRIPTION = 256
# Each scope, and the parameters that say which chat or person it means.
SCOPES = {
    "default": (),
    "all_private_chats": (),
    "all_group_chats": (),
    "all_chat_administrators": (),
    "chat": ("chat_id",),
    "chat_administrators": ("chat_id",),
    "chat_member": ("chat_id", "user_id"),
}
Key = tuple[object, ...]


def set_commands(world: World, params: Params) -> bool:
    """Replace the list of one scope and language."""
    commands = params.parsed("commands")
    if not isinstance(commands, list):
        raise bad_request("expected an Array of BotCommand")
    if len(commands) > world.limits.commands:
        raise bad_request("BOT_COMMANDS_TOO_MUCH")
    world.commands[_key(world, params)] = [_command(raw) for raw in commands]
    return True


def get_commands(world: World, params: Params) -> list[Json]:
    """The list of exactly this scope and language; no falling back to a wider one."""
    return world.commands.get(_key(world, params), [])


def delete_commands(world: World, params: Params) -> bool:
    """Remove a list, so that people see the next wider one."""
    world.commands.pop(_key(world, params), None)
    return True


def menu(world: World, chat_id: int, language: str) -> tuple[str, ...]:
    """What a person sees in private: the narrowest list that exists, their language first."""
    for scope in (("chat", chat_id), ("all_private_chats",), ("default",)):
        for code in (language, ""):
            if world.commands.get((*scope, code)):
                return tuple(one["command"] for one in world.commands[(*scope, code)])
    return ()


def _key(world: World, params: Params) -> Key:
    scope = params.parsed("scope") or {"type": "default"}
    kind = scope.get("type")
    if kind not in SCOPES:
        raise bad_request("can't parse BotCommandScope: unsupported type specified")
    language = params.text("language_code")
    if not LANGUAGE.fullmatch(language):
        raise bad_request("invalid language code specified")
    named = Params({name: scope.get(name) for name in SCOPES[kind]})
    if "chat_id" in named.values and named.number("chat_id") not in world.chats:
        raise bad_request("chat not found")
    return (kind, *(named.number(name) for name in named.values), language)


def _command(raw: Json) -> Json:
    name, description = str(raw.get("command", "")), str(raw.get("description", ""))
    if not NAME.fullmatch(name):
        raise bad_request("BOT_COMMAND_INVALID")
    if not 1 <= len(description) <= LONGEST_DESCRIPTION:
        raise bad_request("BOT_COMMAND_DESCRIPTION_INVALID")
    return {"command": name.removeprefix("/"), "description": description}


METHODS: dict[str, Method] = {
    "setMyCommands": set_commands,
    "getMyCommands": get_commands,
    "deleteMyCommands": delete_commands,
}
