"""The command menu: scopes, languages, and what names are allowed."""

from typing import Any

import pytest

from demo_script.stand_in import Person, StandIn
from tests.demo_script.conftest import Caller


def named(*names: str) -> list[dict[str, str]]:
    """Commands with these names."""
    return [{"command": name, "description": f"Do {name}"} for name in names]


async def test_each_scope_and_language_has_its_own_list(call: Caller, ann: Person) -> None:
    private = {"type": "all_private_chats"}
    await call("setMyCommands", commands=named("help"))
    await call("setMyCommands", commands=named("hilfe"), language_code="de")
    await call("setMyCommands", commands=named("help", "scale"), scope=private)
    assert await call("getMyCommands") == named("help")
    assert await call("getMyCommands", language_code="de") == named("hilfe")
    assert await call("getMyCommands", scope=private) == named("help", "scale")
    assert await call("getMyCommands", scope=private, language_code="de") == []
    await call("deleteMyCommands", scope=private)
    assert await call("getMyCommands", scope=private) == []
    assert await call("getMyCommands") == named("help")


async def test_people_see_the_narrowest_list_in_their_language(call: Caller, api: StandIn) -> None:
    ann, bea = api.person("Ann"), api.person("Bea", language="de")
    assert api.menu(ann) == ()
    await call("setMyCommands", commands=named("help"))
    await call("setMyCommands", commands=named("hilfe"), language_code="de")
    assert (api.menu(ann), api.menu(bea)) == (("help",), ("hilfe",))
    only_bea = {"type": "chat", "chat_id": bea.person_id}
    await call("setMyCommands", commands=named("digest"), scope=only_bea)
    assert (api.menu(ann), api.menu(bea)) == (("help",), ("digest",))
    await call("deleteMyCommands", scope=only_bea)
    assert api.menu(bea) == ("hilfe",)


@pytest.mark.parametrize(
    ("params", "why"),
    [
        ({"commands": named(*[f"c{n}" for n in range(101)])}, "BOT_COMMANDS_TOO_MUCH"),
        ({"commands": named("Help")}, "BOT_COMMAND_INVALID"),
        ({"commands": named("a-b")}, "BOT_COMMAND_INVALID"),
        ({"commands": named("x" * 33)}, "BOT_COMMAND_INVALID"),
        ({"commands": [{"command": "x", "description": ""}]}, "BOT_COMMAND_DESCRIPTION_INVALID"),
        (
            {"commands": [{"command": "x", "description": "x" * 257}]},
            "BOT_COMMAND_DESCRIPTION_INVALID",
        ),
        ({"commands": "{}"}, "expected an Array of BotCommand"),
        ({"commands": [], "language_code": "german"}, "invalid language code specified"),
        (
            {"commands": [], "scope": {"type": "everywhere"}},
            "can't parse BotCommandScope: unsupported type specified",
        ),
        ({"commands": [], "scope": {"type": "chat", "chat_id": 1}}, "chat not found"),
    ],
)
async def test_lists_that_are_refused(call: Caller, params: dict[str, Any], why: str) -> None:
    assert await call.refused("setMyCommands", **params) == f"400 Bad Request: {why}"


async def test_a_hundred_long_names_are_fine(call: Caller) -> None:
    commands = [{"command": f"{n:_>32}", "description": "x" * 256} for n in range(100)]
    await call("setMyCommands", commands=commands)
    assert await call("getMyCommands") == commands


async def test_the_bot_describes_itself_per_language(call: Caller) -> None:
    await call("setMyDescription", description="Rates classes")
    await call("setMyShortDescription", short_description="Kurz", language_code="de")
    assert await call("getMyDescription", language_code="de") == {"description": "Rates classes"}
    assert await call("getMyShortDescription") == {"short_description": ""}
    assert await call.refused("setMyShortDescription", short_description="x" * 121) == (
        "400 Bad Request: bot short description is too long"
    )
