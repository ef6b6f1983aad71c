"""getUpdates: at least once, in order, for one poller at a time."""

import asyncio

import aiohttp
import pytest

from demo_script.stand_in import Limits, Person, StandIn
from tests.demo_script.conftest import Caller, PushedClock


async def test_an_update_comes_again_until_a_higher_offset_confirms_it(
    call: Caller, ann: Person
) -> None:
    ann.say("one")
    first = await call("getUpdates")
    assert await call("getUpdates") == first
    assert len(first) == 2
    last_id = first[-1]["update_id"]
    assert await call.texts(last_id) == ["one"]
    assert await call.texts(last_id + 1) == []
    assert await call.texts(0) == []


async def test_update_ids_start_anywhere_and_follow_each_other(call: Caller, ann: Person) -> None:
    ann.say("one")
    ids = [update["update_id"] for update in await call("getUpdates")]
    assert ids[0] > 1000
    assert ids[1] == ids[0] + 1


async def test_a_negative_offset_counts_from_the_end_and_forgets_the_rest(
    call: Caller, ann: Person
) -> None:
    for text in ("one", "two", "three"):
        ann.say(text)
    assert await call.texts(-2) == ["two", "three"]
    assert await call.texts() == ["two", "three"]


@pytest.mark.parametrize(("limit", "given"), [(2, 2), (100, 100), (0, 100), (500, 100)])
async def test_at_most_a_hundred_updates_come_at_once(
    call: Caller, ann: Person, limit: int, given: int
) -> None:
    for number in range(120):
        ann.say(f"{number}")
    assert len(await call("getUpdates", limit=limit)) == given


async def test_a_long_poll_returns_as_soon_as_something_happens(call: Caller, ann: Person) -> None:
    offset = (await call("getUpdates"))[-1]["update_id"] + 1
    poll = asyncio.create_task(call.texts(offset, timeout=50))
    await asyncio.sleep(0.05)
    assert not poll.done()
    ann.say("here")
    async with asyncio.timeout(5):
        assert await poll == ["here"]


async def test_a_long_poll_without_news_ends_empty_after_its_timeout(call: Caller) -> None:
    started = asyncio.get_running_loop().time()
    assert await call("getUpdates", timeout=1) == []
    assert asyncio.get_running_loop().time() - started >= 0.9


async def test_the_older_of_two_pollers_is_sent_away(call: Caller, api: StandIn) -> None:
    older = asyncio.create_task(call.refused("getUpdates", timeout=50))
    await api.until(lambda: api.world.updates.has_poller)
    newer = asyncio.create_task(call("getUpdates", timeout=50))
    assert await older == (
        "409 Conflict: terminated by other getUpdates request; "
        "make sure that only one bot instance is running"
    )
    api.person("Ann").press_start()
    assert len(await newer) == 1


async def test_kinds_that_were_not_asked_for_are_never_queued(call: Caller, ann: Person) -> None:
    await call("getUpdates", allowed_updates=["callback_query"])
    ann.say("not wanted")
    ann.press_raw(1, "wanted")
    await call("getUpdates")  # the choice is remembered
    ann.say("not wanted either")
    assert [u.keys() - {"update_id"} for u in await call("getUpdates")] == [
        {"message"},  # older than the choice
        {"callback_query"},
    ]
    await call("getUpdates", allowed_updates=[])
    ann.say("wanted again")
    assert (await call("getUpdates"))[-1]["message"]["text"] == "wanted again"


async def test_messages_wait_a_day_and_presses_150_seconds(
    call: Caller, ann: Person, clock: PushedClock
) -> None:
    ann.press_raw(1, "7")
    clock.push(seconds=149)
    assert len(await call("getUpdates")) == 2
    clock.push(seconds=1)
    assert len(await call("getUpdates")) == 1
    clock.push(hours=24)
    assert await call("getUpdates") == []


async def test_after_a_quiet_week_ids_start_anywhere_again(
    call: Caller, ann: Person, clock: PushedClock
) -> None:
    last_id = (await call("getUpdates"))[-1]["update_id"]
    await call("getUpdates", offset=last_id + 1)
    clock.push(days=7)
    ann.say("back")
    updates = await call("getUpdates", offset=last_id + 1)
    assert [u["message"]["text"] for u in updates] == ["back"]
    assert abs(updates[0]["update_id"] - last_id) > 1


async def test_any_object_can_be_put_into_the_queue(call: Caller, api: StandIn) -> None:
    update_id = api.inject({"message": {"text": None}})
    assert await call("getUpdates") == [{"update_id": update_id, "message": {"text": None}}]


async def test_dropping_what_waits_and_counting_it(call: Caller, ann: Person) -> None:
    assert (await call("getWebhookInfo"))["pending_update_count"] == 1
    await call("deleteWebhook", drop_pending_updates=True)
    assert (await call("getWebhookInfo"))["pending_update_count"] == 0


@pytest.mark.parametrize(
    ("path", "status", "description"),
    [
        ("/bot5000000001:wrong/getMe", 401, "Unauthorized"),
        ("/botnonsense/getMe", 404, "Not Found"),
        ("/elsewhere", 404, "Not Found"),
    ],
)
async def test_wrong_doors_stay_closed(
    api: StandIn, path: str, status: int, description: str
) -> None:
    async with aiohttp.ClientSession() as session, session.get(api.url + path) as response:
        assert response.status == status
        expected = {"ok": False, "error_code": status, "description": description}
        assert await response.json() == expected


async def test_unknown_methods_are_not_found_and_case_does_not_matter(call: Caller) -> None:
    assert await call.refused("sendGreeting") == "404 Not Found"
    assert (await call("GETME"))["is_bot"] is True


async def test_the_second_conflict_in_a_row_is_answered_late(clock: PushedClock) -> None:
    limits = Limits(conflict_pause_seconds=0.3)
    async with StandIn(clock.now, limits=limits) as api, aiohttp.ClientSession() as session:
        call = Caller(api, session)
        first = asyncio.create_task(call.refused("getUpdates", timeout=50))
        await api.until(lambda: api.world.updates.has_poller)
        second = asyncio.create_task(call.refused("getUpdates", timeout=50))
        assert (await first).startswith("409")
        started = asyncio.get_running_loop().time()
        third = asyncio.create_task(call("getUpdates", timeout=50))
        assert (await second).startswith("409")
        assert asyncio.get_running_loop().time() - started >= 0.25
        api.person("Ann").press_start()
        assert len(await third) == 1


async def test_a_poller_that_hung_up_is_no_second_poller(call: Caller, api: StandIn) -> None:
    killed = asyncio.create_task(call("getUpdates", timeout=50))
    await api.until(lambda: api.world.updates.has_poller)
    killed.cancel()
    await api.until(lambda: not api.world.updates.has_poller)
    api.person("Ann").press_start()
    assert len(await call("getUpdates", timeout=50)) == 1
    assert [request.status for request in api.requests] == [200]
