"""Presses: what the bot hears, and how it may answer."""

from typing import Any

import pytest

from demo_script.stand_in import Person, Press, StandIn
from tests.demo_script.conftest import Caller, PushedClock, keyboard

TOO_OLD = "400 Bad Request: query is too old and response timeout expired or query ID is invalid"


@pytest.fixture
async def press(call: Caller, ann: Person) -> Press:
    """Ann presses 7."""
    markup = keyboard("7", "8")
    await call("sendMessage", chat_id=ann.person_id, text="How hard?", reply_markup=markup)
    return ann.press(ann.last_message, "7")


async def _heard(call: Caller) -> dict[str, Any]:
    query: dict[str, Any] = (await call("getUpdates"))[-1]["callback_query"]
    return query


async def test_the_bot_hears_who_pressed_what_on_which_message(
    call: Caller, ann: Person, press: Press
) -> None:
    query = await _heard(call)
    assert query["id"] == press.query_id
    assert (query["from"]["id"], query["data"]) == (ann.person_id, "7")
    assert query["message"]["text"] == "How hard?"
    assert query["message"]["reply_markup"] == keyboard("7", "8")


async def test_an_answer_is_shown_and_counts_once(call: Caller, press: Press) -> None:
    assert press.answer is None
    answer = {"callback_query_id": press.query_id, "text": "Thanks", "show_alert": True}
    await call("answerCallbackQuery", **answer)
    shown = await press.answered()
    assert (shown.text, shown.show_alert, shown.url) == ("Thanks", True, None)
    assert await call.refused("answerCallbackQuery", **answer) == TOO_OLD


async def test_a_press_lives_150_seconds(
    call: Caller, ann: Person, press: Press, clock: PushedClock
) -> None:
    clock.push(seconds=149)
    later = ann.press(ann.last_message, "8")
    await call("answerCallbackQuery", callback_query_id=press.query_id)
    clock.push(seconds=150)
    assert await call.refused("answerCallbackQuery", callback_query_id=later.query_id) == TOO_OLD
    assert later.answer is None
    assert await call.refused("answerCallbackQuery", callback_query_id="1") == TOO_OLD


@pytest.mark.parametrize(
    ("params", "why"),
    [
        ({"text": "x" * 201}, "MESSAGE_TOO_LONG"),
        ({"url": "https://example.org/"}, "URL_INVALID"),
        ({"url": "https://t.me/another_bot?start=x"}, "URL_INVALID"),
    ],
)
async def test_answers_that_are_refused(
    call: Caller, press: Press, params: dict[str, Any], why: str
) -> None:
    query = {"callback_query_id": press.query_id}
    refusal = await call.refused("answerCallbackQuery", **query, **params)
    assert refusal == f"400 Bad Request: {why}"


async def test_an_answer_may_open_the_private_chat(
    call: Caller, api: StandIn, ann: Person, press: Press
) -> None:
    url = f"https://t.me/{api.username}?start=rate"
    await call("answerCallbackQuery", callback_query_id=press.query_id, url=url)
    answer = await press.answered()
    assert answer.url == url
    assert ann.open_link(answer.url).text == "/start rate"


async def test_only_visible_buttons_can_be_pressed_but_a_tampered_app_sends_anything(
    call: Caller, ann: Person, press: Press
) -> None:
    with pytest.raises(LookupError, match="no button '10'"):
        ann.press(ann.last_message, "10")
    ann.press_raw(ann.last_message.message_id, "drop table")
    assert (await _heard(call))["data"] == "drop table"
    ann.press_raw(4711, "7")
    query = await _heard(call)
    assert query["message"] == {
        "chat": {"id": ann.person_id, "type": "private", "first_name": "Ann"},
        "message_id": 4711,
        "date": 0,
    }


async def test_the_message_of_a_press_may_be_inaccessible(
    call: Caller, ann: Person, press: Press
) -> None:
    ann.press(ann.last_message, "8", accessible=False)
    assert (await _heard(call))["message"]["date"] == 0


async def test_the_keyboard_that_counts_is_the_one_that_is_there_now(
    call: Caller, ann: Person, press: Press
) -> None:
    old = ann.last_message
    where = {"chat_id": old.chat_id, "message_id": old.message_id}
    await call("editMessageReplyMarkup", **where, reply_markup=keyboard("9"))
    with pytest.raises(LookupError):
        ann.press(old, "7")
    ann.press(old, "9")
    await call("deleteMessage", **where)
    with pytest.raises(LookupError, match="gone"):
        ann.press(old, "9")
