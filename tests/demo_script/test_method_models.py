"""The independent description takes what the API takes, and nothing else."""

from typing import Any

import pytest

from tests.demo_script.method_models import MODELS, InvalidRequest, check_request

MARKUP = '{"inline_keyboard":[[{"text":"7","callback_data":"7"}]]}'


@pytest.mark.parametrize(
    ("method", "params"),
    [
        ("getMe", {}),
        ("getUpdates", {"offset": "5", "timeout": 50, "allowed_updates": '["message"]'}),
        ("sendMessage", {"chat_id": "7", "text": "{not JSON}", "reply_markup": MARKUP}),
        ("sendMessage", {"chat_id": 7, "text": "x", "protect_content": "true"}),
        ("sendDocument", {"chat_id": 7, "document": "attach://document"}),
        ("answerCallbackQuery", {"callback_query_id": "7", "show_alert": True, "text": None}),
        (
            "setMyCommands",
            {
                "commands": '[{"command":"help","description":"Help"}]',
                "scope": '{"type":"all_private_chats"}',
                "language_code": "de",
            },
        ),
    ],
)
def test_good_requests_pass(method: str, params: dict[str, Any]) -> None:
    check_request(method, params)


@pytest.mark.parametrize(
    ("method", "params", "why"),
    [
        ("sendGreeting", {}, "no method"),
        ("sendMessage", {"chat_id": 7}, "text"),
        ("sendMessage", {"chat_id": 7, "text": "x", "parsemode": "HTML"}, "sendMessage.parsemode"),
        ("sendMessage", {"chat_id": 7, "text": "x", "reply_markup": "[}"}, "reply_markup"),
        (
            "sendMessage",
            {
                "chat_id": 7,
                "text": "x",
                "reply_markup": {"inline_keyboard": [[{"text": "7", "data": "7"}]]},
            },
            r"reply_markup.inline_keyboard\[0\]\[0\].data",
        ),
        ("editMessageText", {"chat_id": 7, "message_id": "seven", "text": "x"}, "message_id"),
        ("setMyCommands", {"commands": [{"command": "help"}]}, "description"),
    ],
)
def test_bad_requests_are_named(method: str, params: dict[str, Any], why: str) -> None:
    with pytest.raises(InvalidRequest, match=why):
        check_request(method, params)


def test_the_description_covers_the_whole_api() -> None:
    assert len(MODELS) > 150
