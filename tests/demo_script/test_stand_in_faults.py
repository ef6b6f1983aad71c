"""Trouble on the line: what the bot sees, and what had been done all the same."""

import aiohttp
import pytest

from demo_script.stand_in import Person, StandIn, Trouble, faults
from tests.demo_script.conftest import Caller, PushedClock


@pytest.mark.parametrize(
    ("trouble", "arrived"), [(faults.cut_before(), 0), (faults.cut_after(), 1)]
)
async def test_a_cut_line_leaves_the_caller_uncertain(
    call: Caller, api: StandIn, ann: Person, trouble: Trouble, arrived: int
) -> None:
    api.faults.append(faults.times(1, "sendMessage", trouble))
    with pytest.raises(aiohttp.ServerDisconnectedError):
        await call("sendMessage", chat_id=ann.person_id, text="one")
    assert len(ann.messages) - 1 == arrived
    assert (api.requests[-1].status, api.requests[-1].applied) == (None, bool(arrived))
    await call("sendMessage", chat_id=ann.person_id, text="two")
    assert ann.last_message.text == "two"


@pytest.mark.parametrize(
    ("trouble", "status", "body"),
    [
        (faults.bad_gateway(), 502, "<html>"),
        (faults.bad_gateway(500, applied=True), 500, "<html>"),
        (faults.torn_json(), 200, '{"ok":true,"result":{"mess'),
    ],
)
async def test_answers_that_are_no_answers(
    call: Caller, api: StandIn, ann: Person, trouble: Trouble, status: int, body: str
) -> None:
    api.faults.append(faults.times(1, "sendMessage", trouble))
    url = f"{api.url}/bot{api.token}/sendMessage"
    params = {"chat_id": ann.person_id, "text": "x"}
    async with call.session.post(url, json=params) as response:
        assert response.status == status
        assert (await response.text()).startswith(body)
    assert len(ann.messages) - 1 == trouble.applied


async def test_busy_and_slow_days(clock: PushedClock) -> None:
    waited: list[float] = []

    async def wait(seconds: float) -> None:
        waited.append(seconds)

    async with StandIn(clock.now, wait=wait) as api, aiohttp.ClientSession() as session:
        call, ann = Caller(api, session), api.person("Ann")
        ann.press_start()
        message = {"chat_id": ann.person_id, "text": "x"}
        api.faults.append(faults.times(1, "sendMessage", faults.busy(17)))
        body = await call.raw("sendMessage", **message)
        assert body["parameters"] == {"retry_after": 17}
        assert api.violations == 0  # it was nobody's fault
        api.faults.append(faults.times(1, "sendMessage", faults.slow(30)))
        await call("sendMessage", **message)
    assert waited == [30]


async def test_any_function_can_make_trouble(call: Caller, api: StandIn, ann: Person) -> None:
    def only_ann(_method: str, params: object) -> Trouble | None:
        assert isinstance(params, dict)
        return faults.busy(1) if params.get("chat_id") == ann.person_id else None

    api.faults.append(only_ann)
    bea = api.person("Bea")
    bea.press_start()
    assert (await call.refused("sendMessage", chat_id=ann.person_id, text="x")).startswith("429")
    await call("sendMessage", chat_id=bea.person_id, text="x")
    api.faults.clear()
    await call("sendMessage", chat_id=ann.person_id, text="x")


async def test_in_an_outage_nobody_answers_and_people_go_on(
    call: Caller, api: StandIn, ann: Person
) -> None:
    before = await call("getUpdates")
    url = api.url
    async with api.outage():
        ann.say("Anybody there?")
        with pytest.raises(aiohttp.ClientConnectionError):  # a kept line is cut, a new one refused
            await call("getMe")
        with pytest.raises(aiohttp.ClientConnectorError):
            await call("getMe")
    assert api.url == url
    assert len(await call("getUpdates")) == len(before) + 1
