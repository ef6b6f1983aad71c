"""Sending: to whom a bot may write, and what."""

from typing import Any

import aiohttp
import pytest

from demo_script.stand_in import Person, StandIn
from tests.demo_script.conftest import Caller, PushedClock, keyboard


async def test_a_message_arrives_with_its_styles_and_buttons(call: Caller, ann: Person) -> None:
    sent = await call(
        "sendMessage",
        chat_id=ann.person_id,
        text="How hard, <b>Ann</b>? 😀 <a href='https://example.org/'>why</a>",
        parse_mode="HTML",
        reply_markup=keyboard("7", "8"),
    )
    seen = ann.last_message
    assert seen.text == "How hard, Ann? 😀 why"
    assert seen.html == 'How hard, <b>Ann</b>? 😀 <a href="https://example.org/">why</a>'
    assert seen.labels == (("7", "8"),)
    assert sent["message_id"] == seen.message_id
    assert sent["entities"][1] == {
        "type": "text_link",
        "offset": 18,  # the face counts twice: UTF-16
        "length": 3,
        "url": "https://example.org/",
    }


async def test_nobody_is_written_to_before_they_press_start(call: Caller, api: StandIn) -> None:
    bea = api.person("Bea")
    refusal = await call.refused("sendMessage", chat_id=bea.person_id, text="Hello")
    assert refusal == "403 Forbidden: bot can't initiate conversation with a user"
    bea.press_start("code_1-a")
    await call("sendMessage", chat_id=bea.person_id, text="Hello")
    assert [m.text for m in bea.messages] == ["/start code_1-a", "Hello"]


async def test_who_blocked_the_bot_hears_nothing_until_they_unblock(
    call: Caller, ann: Person
) -> None:
    ann.block()
    refusal = await call.refused("sendMessage", chat_id=ann.person_id, text="Hello")
    assert refusal == "403 Forbidden: bot was blocked by the user"
    ann.press_start()
    await call("sendMessage", chat_id=ann.person_id, text="Hello")
    changes = [u["my_chat_member"] for u in await call("getUpdates") if "my_chat_member" in u]
    assert [c["new_chat_member"]["status"] for c in changes] == ["kicked", "member"]


async def test_a_deleted_account_and_an_unknown_chat_are_refused(call: Caller, ann: Person) -> None:
    ann.deactivate()
    refusal = await call.refused("sendMessage", chat_id=ann.person_id, text="Hello")
    assert refusal == "403 Forbidden: user is deactivated"
    refusal = await call.refused("sendMessage", chat_id=1, text="Hello")
    assert refusal == "400 Bad Request: chat not found"
    assert await call.refused("sendMessage", text="x") == "400 Bad Request: chat_id is empty"


@pytest.mark.parametrize(
    ("params", "why"),
    [
        ({"text": ""}, "message text is empty"),
        ({"text": " \n"}, "message text is empty"),
        ({"text": "<b></b>", "parse_mode": "HTML"}, "message text is empty"),
        ({"text": "a" * 4097}, "message is too long"),
        ({"text": "😀" * 2049}, "message is too long"),
        ({"text": "x", "parse_mode": "Wordy"}, "unsupported parse_mode"),
        ({"text": "<b>x</b> " * 101, "parse_mode": "HTML"}, "ENTITIES_TOO_LONG"),
        ({"text": "x", "reply_parameters": {"message_id": 99}}, "message to be replied not found"),
        ({"text": "x", "reply_markup": "{"}, "can't parse reply markup JSON object"),
        ({"text": "x", "reply_markup": [1]}, "object expected as reply markup"),
    ],
)
async def test_texts_that_are_refused(
    call: Caller, ann: Person, params: dict[str, Any], why: str
) -> None:
    refusal = await call.refused("sendMessage", chat_id=ann.person_id, **params)
    assert refusal == f"400 Bad Request: {why}"
    assert len(ann.messages) == 1


async def test_length_counts_after_parsing(call: Caller, ann: Person) -> None:
    text = "<b>" + "&lt;" * 4096 + "</b>"
    await call("sendMessage", chat_id=ann.person_id, text=text, parse_mode="HTML")
    assert ann.last_message.text == "<" * 4096


def _buttons(*rows: int) -> dict[str, Any]:
    one = {"text": "7", "callback_data": "7"}
    return {"inline_keyboard": [[one] * size for size in rows]}


@pytest.mark.parametrize(
    ("markup", "why"),
    [
        (_buttons(9), "reply markup is too long"),
        (_buttons(*[8] * 13), "reply markup is too long"),
        (
            {"inline_keyboard": [[{"text": "x"}]]},
            "can't parse inline keyboard button: Text buttons are unallowed in the inline keyboard",
        ),
        (
            {"inline_keyboard": [[{"callback_data": "x"}]]},
            'can\'t parse inline keyboard button: Field "text" must be of type String',
        ),
        ({"inline_keyboard": "x"}, "can't parse reply keyboard markup JSON object"),
        ({"inline_keyboard": [[{"text": "x", "callback_data": ""}]]}, "BUTTON_DATA_INVALID"),
        (
            {"inline_keyboard": [[{"text": "x", "callback_data": "é" * 32 + "x"}]]},
            "BUTTON_DATA_INVALID",
        ),
        ({"inline_keyboard": [[{"text": "x", "url": "nowhere"}]]}, "BUTTON_URL_INVALID"),
    ],
)
async def test_keyboards_that_are_refused(
    call: Caller, ann: Person, markup: dict[str, Any], why: str
) -> None:
    refusal = await call.refused(
        "sendMessage", chat_id=ann.person_id, text="x", reply_markup=markup
    )
    assert refusal == f"400 Bad Request: {why}"


async def test_the_largest_keyboard_goes_through(call: Caller, ann: Person) -> None:
    markup = _buttons(*[8] * 12, 4)
    markup["inline_keyboard"][0][0] = {"text": "x", "callback_data": "é" * 32}
    await call("sendMessage", chat_id=ann.person_id, text="x", reply_markup=markup)
    assert sum(map(len, ann.last_message.buttons)) == 100


async def test_a_reply_carries_what_it_answers(call: Caller, ann: Person) -> None:
    asked = ann.say("When is class?")
    reply = {"message_id": asked.message_id}
    sent = await call("sendMessage", chat_id=ann.person_id, text="At six", reply_parameters=reply)
    assert sent["reply_to_message"]["text"] == "When is class?"
    lost = {"message_id": 99, "allow_sending_without_reply": True}
    sent = await call("sendMessage", chat_id=ann.person_id, text="At six", reply_parameters=lost)
    assert "reply_to_message" not in sent


async def test_messages_can_be_deleted_for_48_hours(
    call: Caller, ann: Person, clock: PushedClock
) -> None:
    sent = await call("sendMessage", chat_id=ann.person_id, text="a")
    where = {"chat_id": ann.person_id, "message_id": sent["message_id"]}
    clock.push(hours=48)
    await call("deleteMessage", **where)
    assert [m.text for m in ann.messages] == ["/start"]
    assert await call.refused("deleteMessage", **where) == (
        "400 Bad Request: message to delete not found"
    )
    clock.push(seconds=1)
    assert await call.refused("deleteMessage", chat_id=ann.person_id, message_id=1) == (
        "400 Bad Request: message can't be deleted for everyone"
    )


async def test_forms_and_addresses_are_read_like_json_bodies(
    call: Caller, ann: Person, api: StandIn
) -> None:
    url = f"{api.url}/bot{api.token}/sendMessage"
    markup = '{"inline_keyboard":[[{"text":"7","callback_data":"7"}]]}'
    fields = {"chat_id": str(ann.person_id), "text": "form", "reply_markup": markup}
    async with aiohttp.ClientSession() as session:
        async with session.post(url, data=fields) as response:
            assert response.status == 200
        async with session.get(url, params=fields | {"text": "address"}) as response:
            assert response.status == 200
        async with session.post(url, data=aiohttp.FormData(fields)(), json=None) as response:
            assert response.status == 200
        async with session.post(url, data="[1", headers={"Content-Type": "application/json"}) as r:
            assert (await r.json())["description"] == "Bad Request: can't parse JSON object"
    assert [m.text for m in ann.messages[1:]] == ["form", "address", "form"]
    assert all(m.labels == (("7",),) for m in ann.messages[1:])


async def test_every_request_is_recorded_with_what_came_of_it(
    call: Caller, ann: Person, api: StandIn
) -> None:
    await call("sendMessage", chat_id=ann.person_id, text="one")
    await call.refused("sendMessage", chat_id=ann.person_id, text="")
    good, bad = api.requests
    assert (good.method, good.status, good.accepted) == ("sendMessage", 200, True)
    assert good.params["text"] == "one"
    assert (bad.status, bad.accepted, bad.applied) == (400, False, False)
    assert bad.description == "Bad Request: message text is empty"
    api.forget()
    assert api.requests == []
