"""Editing: a bot's own messages, and only to something new."""

from typing import Any

import pytest

from demo_script.stand_in import Person
from tests.demo_script.conftest import Caller, PushedClock, keyboard


@pytest.fixture
async def asked(call: Caller, ann: Person) -> dict[str, Any]:
    """Where a message with two buttons is."""
    markup = keyboard("7", "8")
    sent = await call("sendMessage", chat_id=ann.person_id, text="How hard?", reply_markup=markup)
    return {"chat_id": ann.person_id, "message_id": sent["message_id"]}


async def test_an_edit_replaces_the_text_and_takes_the_buttons_away(
    call: Caller, ann: Person, asked: dict[str, Any], clock: PushedClock
) -> None:
    clock.push(weeks=10)  # there is no time limit for edits
    edited = await call("editMessageText", **asked, text="<i>Thanks</i>", parse_mode="HTML")
    assert edited["edit_date"] == int(clock.now().timestamp())
    assert (ann.last_message.html, ann.last_message.labels) == ("<i>Thanks</i>", ())
    assert ann.last_message.edits == 1


async def test_buttons_change_alone(call: Caller, ann: Person, asked: dict[str, Any]) -> None:
    await call("editMessageReplyMarkup", **asked, reply_markup=keyboard("9"))
    assert (ann.last_message.text, ann.last_message.labels) == ("How hard?", (("9",),))
    await call("editMessageReplyMarkup", **asked)
    assert ann.last_message.labels == ()


async def test_the_same_again_is_refused(call: Caller, asked: dict[str, Any]) -> None:
    why = (
        "400 Bad Request: message is not modified: specified new message content and reply markup "
        "are exactly the same as a current content and reply markup of the message"
    )
    same = {"text": "How hard?", "reply_markup": keyboard("7", "8")}
    assert await call.refused("editMessageText", **asked, **same) == why
    markup = {"reply_markup": keyboard("7", "8")}
    assert await call.refused("editMessageReplyMarkup", **asked, **markup) == why
    await call("editMessageText", **asked, text="How hard?")  # the buttons went: that is new


@pytest.mark.parametrize(
    ("params", "why"),
    [
        ({"message_id": 999, "text": "x"}, "message to edit not found"),
        ({"message_id": None, "text": "x"}, "message identifier is not specified"),
        ({"message_id": 1, "text": "x"}, "message can't be edited"),
        ({"text": ""}, "message text is empty"),
        ({"text": "x" * 4097}, "MESSAGE_TOO_LONG"),
        (
            {"text": "<b>x", "parse_mode": "HTML"},
            "can't parse entities: Can't find end tag corresponding to start tag \"b\"",
        ),
    ],
)
async def test_edits_that_are_refused(
    call: Caller, asked: dict[str, Any], params: dict[str, Any], why: str
) -> None:
    refusal = await call.refused("editMessageText", **(asked | params))
    assert refusal == f"400 Bad Request: {why}"


async def test_a_text_has_no_caption(call: Caller, asked: dict[str, Any]) -> None:
    assert await call.refused("editMessageCaption", **asked, caption="x") == (
        "400 Bad Request: there is no caption in the message to edit"
    )


async def test_nothing_is_edited_for_whoever_blocked_the_bot(
    call: Caller, ann: Person, asked: dict[str, Any]
) -> None:
    ann.block()
    assert await call.refused("editMessageText", **asked, text="x") == (
        "403 Forbidden: bot was blocked by the user"
    )
