"""Updates that aren't as the chat API documents them are known before anybody reads them."""

from typing import Any

import pytest

from bot.delivery.shape import is_sound

PERSON = {"id": 1, "is_bot": False, "first_name": "Ana"}
CHAT = {"id": 1, "type": "private"}
MESSAGE: dict[str, Any] = {"message_id": 1, "date": 1, "chat": CHAT, "from": PERSON, "text": "7"}


@pytest.mark.parametrize(
    "update",
    [
        {"message": MESSAGE},
        {"message": {**MESSAGE, "from": {**PERSON, "first_name": "", "last_name": None}}},
        {"message": {**MESSAGE, "text": "\ud800"}},
        {"message": {**MESSAGE, "something_new": [1, {"from_where": None}]}},
        {"something_new": 5},
        {"callback_query": {"id": "5", "from": PERSON, "data": "a", "message": MESSAGE}},
        {"callback_query": {"id": "5", "from": PERSON, "game_short_name": "a"}},
        {},
    ],
)
def test_what_is_documented_is_sound_and_so_is_what_nobody_knows(update: dict[str, Any]) -> None:
    assert is_sound({"update_id": 1, **update})


@pytest.mark.parametrize(
    "update",
    [
        {"message": "a text"},
        {"message": {}},
        {"message": {**MESSAGE, "text": 7}},
        {"message": {**MESSAGE, "from": {**PERSON, "id": "1"}}},
        {"message": {**MESSAGE, "from": {**PERSON, "id": True}}},
        {"message": {**MESSAGE, "from": {**PERSON, "id": 2**63}}},
        {"message": {**MESSAGE, "from": {**PERSON, "language_code": "\ud800"}}},
        {"message": {**MESSAGE, "chat": [CHAT]}},
        {"message": {**MESSAGE, "entities": {}}},
        {"message": {**MESSAGE, "new_chat_members": [1]}},
        {"callback_query": {"id": 5, "from": PERSON}},
        {"callback_query": {"id": "5", "from": None}},
        {"my_chat_member": {"chat": CHAT, "from": PERSON, "new_chat_member": {}}},
    ],
)
def test_what_is_not_is_not(update: dict[str, Any]) -> None:
    assert not is_sound({"update_id": 1, **update})
