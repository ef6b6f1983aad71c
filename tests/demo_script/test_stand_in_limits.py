"""Pacing: how many messages are taken, by the stand-in's own clock."""

import aiohttp
import pytest

from demo_script.stand_in import Limits, Person, StandIn
from tests.demo_script.conftest import Caller, PushedClock


async def _send(call: Caller, chat_id: int) -> int:
    """Seconds to wait; 0 if the message went through."""
    body = await call.raw("sendMessage", chat_id=chat_id, text="x")
    if body["ok"]:
        return 0
    seconds = int(body["parameters"]["retry_after"])
    assert body["error_code"] == 429
    assert body["description"] == f"Too Many Requests: retry after {seconds}"
    return seconds


async def test_a_private_chat_takes_a_short_burst_and_then_one_a_second(
    call: Caller, api: StandIn, ann: Person, clock: PushedClock
) -> None:
    assert [await _send(call, ann.person_id) for _ in range(4)] == [0, 0, 0, 1]
    clock.push(seconds=1)
    assert [await _send(call, ann.person_id) for _ in range(2)] == [0, 1]
    clock.push(weeks=1)
    assert [await _send(call, ann.person_id) for _ in range(4)] == [0, 0, 0, 1]
    assert api.violations == 3
    assert len(ann.messages) == 1 + 7


async def test_a_group_takes_twenty_a_minute(
    call: Caller, api: StandIn, ann: Person, clock: PushedClock
) -> None:
    group = api.group("Morning class", [ann])
    assert [await _send(call, group.group_id) for _ in range(20)] == [0] * 20
    clock.push(seconds=20)
    assert await _send(call, group.group_id) == 40
    clock.push(seconds=40)
    assert await _send(call, group.group_id) == 0


async def test_all_chats_together_take_thirty_a_second(
    call: Caller, api: StandIn, clock: PushedClock
) -> None:
    people = [api.person(f"Person {number}") for number in range(31)]
    for person in people:
        person.press_start()
    waits = [await _send(call, person.person_id) for person in people]
    assert waits == [0] * 30 + [1]
    clock.push(seconds=1)
    assert await _send(call, people[-1].person_id) == 0


async def test_edits_count_in_their_chat_and_answers_to_presses_do_not(
    call: Caller, ann: Person
) -> None:
    sent = await call("sendMessage", chat_id=ann.person_id, text="0")
    where = {"chat_id": ann.person_id, "message_id": sent["message_id"]}
    for text in ("1", "2"):
        await call("editMessageText", **where, text=text)
    assert (await call.refused("editMessageText", **where, text="3")).startswith("429")
    for _ in range(40):
        press = ann.press_raw(sent["message_id"], "7")
        await call("answerCallbackQuery", callback_query_id=press.query_id)


async def test_what_is_refused_for_another_reason_does_not_count(call: Caller, ann: Person) -> None:
    for _ in range(10):
        await call.refused("sendMessage", chat_id=ann.person_id, text="")
    assert await _send(call, ann.person_id) == 0


@pytest.mark.parametrize("burst", [1, 5])
async def test_limits_can_be_chosen(clock: PushedClock, burst: int) -> None:
    async with StandIn(clock.now, limits=Limits(private_burst=burst)) as api:
        ann = api.person("Ann")
        ann.press_start()
        async with aiohttp.ClientSession() as session:
            call = Caller(api, session)
            waits = [await _send(call, ann.person_id) for _ in range(burst + 1)]
    assert waits == [0] * burst + [1]
