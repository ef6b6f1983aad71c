"""People: what they can do, what they see, and the log that tells of it."""

import pytest

from demo_script.stand_in import Event, Person, StandIn
from tests.demo_script.conftest import Caller, PushedClock, keyboard


async def test_the_log_tells_the_story_in_order(
    call: Caller, api: StandIn, clock: PushedClock
) -> None:
    heard: list[Event] = []
    api.subscribe(heard.append)
    ann = api.person("Ann", language="pt", username="ann_lee")
    ann.press_start()
    clock.push(seconds=5)
    markup = keyboard("7", "8")
    await call("sendMessage", chat_id=ann.person_id, text="How hard?", reply_markup=markup)
    press = ann.press(ann.last_message, "8")
    await call("answerCallbackQuery", callback_query_id=press.query_id, text="Noted")
    where = {"chat_id": ann.person_id, "message_id": ann.last_message.message_id}
    await call("editMessageText", **where, text="Thanks")
    await call("deleteMessage", **where)
    ann.block()
    told = [(event.direction, event.kind, event.who, event.text) for event in api.log]
    assert told == [
        ("in", "message", "Ann", "/start"),
        ("out", "message", api.username, "How hard?"),
        ("in", "press", "Ann", "8"),
        ("out", "answer", api.username, "Noted"),
        ("out", "edit", api.username, "Thanks"),
        ("out", "delete", api.username, "Thanks"),
        ("in", "block", "Ann", ""),
    ]
    assert heard == api.log
    assert api.log[1].buttons == (("7", "8"),)
    assert (api.log[1].at - api.log[0].at).total_seconds() == 5
    assert {event.message_id for event in api.log[1:6]} == {where["message_id"]}
    api.forget()
    assert api.log == []


async def test_waiting_ends_with_the_event_or_with_the_last_words(
    api: StandIn, ann: Person
) -> None:
    await api.until(lambda: ann.messages)
    with pytest.raises(TimeoutError, match="Ann: '/start'"):
        await api.until(lambda: len(ann.messages) > 1, timeout=0.1)


async def test_accounts_carry_name_language_and_username(call: Caller, api: StandIn) -> None:
    api.person("Ann", language="pt", username="ann_lee").say("Hi")
    message = (await call("getUpdates"))[0]["message"]
    assert message["from"]["language_code"] == "pt"
    assert message["from"]["username"] == message["chat"]["username"] == "ann_lee"


async def test_commands_are_marked_and_edits_are_heard(call: Caller, ann: Person) -> None:
    said = ann.say("7 /pause")
    ann.rewrite(said, "8")
    start, first, second = await call("getUpdates")
    assert start["message"]["entities"] == [{"type": "bot_command", "offset": 0, "length": 6}]
    assert first["message"]["text"] == "7 /pause"
    assert second["edited_message"]["text"] == "8"
    assert "edit_date" in second["edited_message"]
    assert [m.text for m in ann.messages] == ["/start", "8"]


@pytest.mark.parametrize("payload", ["x" * 65, "a b", "a=b", "ü"])
def test_start_links_carry_only_what_the_platform_allows(ann: Person, payload: str) -> None:
    with pytest.raises(ValueError, match="no app follows"):
        ann.press_start(payload)


def test_what_no_app_would_send_is_a_mistake_of_the_test(api: StandIn, ann: Person) -> None:
    with pytest.raises(ValueError, match="empty"):
        ann.say(" ")
    with pytest.raises(ValueError, match="too long"):
        ann.say("x" * 4097)
    with pytest.raises(ValueError, match="not a start link"):
        ann.open_link("https://example.org/")
    ann.block()
    with pytest.raises(ValueError, match="blocked"):
        ann.say("still there?")


def test_a_start_link_of_64_characters_works(api: StandIn, ann: Person) -> None:
    code = "aZ09_-" + "x" * 58
    assert ann.open_link(f"https://t.me/{api.username}?start={code}").text == f"/start {code}"
