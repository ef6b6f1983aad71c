"""Updates are stored before they are acknowledged, and the loop gives up only when due."""

import asyncio
import json
from collections.abc import AsyncGenerator
from datetime import datetime, timedelta
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.delivery.handling import AnyApplication
from bot.delivery.hooks import Hooks
from bot.delivery.intake import ALLOWED_UPDATES, Intake, as_incoming, next_offset, person_key
from bot.errors import ChatRefusesUs, NoUpdates
from bot.storage import inbox, pulse
from bot.storage.database import Database, Listener, Transaction
from bot.storage.floods import Allowance
from bot.storage.inbox import INBOX, Incoming
from tests.delivery.loopback import Loopback, hang_up, refusal
from tests.fixed_clock import NOON, FixedClock

CONFLICT = refusal(409, "Conflict: terminated by other getUpdates request")


def said(number: int, person: int = 1, text: str = "7") -> dict[str, Any]:
    someone = {"id": person, "is_bot": False, "first_name": "A"}
    chat = {"id": person, "type": "private"}
    message = {"message_id": number, "date": 0, "chat": chat, "from": someone, "text": text}
    return {"update_id": number, "message": message}


class Fetching:
    """A running intake."""

    def __init__(self, application: AnyApplication, database: Database, noon: FixedClock) -> None:
        self.outages: list[tuple[datetime, datetime]] = []
        self.database = database
        self.noon = noon
        hooks = Hooks(on_outage=self._outage)
        self.came: list[Incoming] = []
        """What was told to have come in."""
        database.listen(INBOX, Listener(self.came.append))
        self.intake = Intake(application.bot, database, noon, hooks, 5, Allowance())
        self.task = asyncio.create_task(self.intake.run(asyncio.Event()))

    async def _outage(self, tx: Transaction, since: datetime, until: datetime) -> None:
        self.outages.append((since, until))

    async def stored(self) -> list[int]:
        async with self.database.transaction() as tx:
            return [update.update_id for update in await inbox.waiting(tx)]

    async def rest(self) -> None:
        """Wait until it waits on the clock after a failure, or has ended."""
        while not (self.noon.at_rest or self.task.done()):  # noqa: ASYNC110 - two ways to end
            await asyncio.sleep(0)


@pytest.fixture
async def fetching(
    api: Loopback, application: AnyApplication, database: Database, noon: FixedClock
) -> AsyncGenerator[Fetching]:
    running = Fetching(application, database, noon)
    yield running
    running.task.cancel()
    await asyncio.gather(running.task, return_exceptions=True)


async def fetched(api: Loopback, calls: int) -> list[dict[str, Any]]:
    return await api.until("getUpdates", calls)


async def test_updates_are_acknowledged_after_they_are_stored(
    api: Loopback, fetching: Fetching
) -> None:
    api.happens(said(7), said(8))
    calls = await fetched(api, 2)
    assert await fetching.stored() == [7, 8]
    assert "offset" not in calls[0]
    assert calls[1]["offset"] == 9
    assert calls[1]["allowed_updates"] == list(ALLOWED_UPDATES)


async def test_what_was_stored_but_not_acknowledged_comes_again_harmlessly(
    api: Loopback, application: AnyApplication, database: Database, fetching: Fetching
) -> None:
    """The process dies between the commit and the next call; the same updates are sent again."""
    async with database.transaction() as tx:
        stored = [as_incoming(said(7)), as_incoming(said(8))]
        await inbox.receive(tx, [update for update in stored if update], NOON)
        await inbox.mark_done(tx, 7, NOON)
    api.happens(said(7), said(8), said(9))
    await fetched(api, 2)
    assert await fetching.stored() == [8, 9]
    assert [each.update_id for each in fetching.came] == [9]


async def test_an_update_of_any_shape_is_stored_and_acknowledged(
    api: Loopback, fetching: Fetching
) -> None:
    api.happens({"update_id": 7, "message": "what?"}, {"update_id": 8, "new": {"from": [1]}})
    assert (await fetched(api, 2))[1]["offset"] == 9
    assert await fetching.stored() == [7, 8]


async def test_a_network_failure_is_waited_out(api: Loopback, fetching: Fetching) -> None:
    api.answers["getUpdates"].extend([hang_up, refusal(502, "Bad Gateway")])
    api.happens(said(7))
    for rest in (1, 2):
        await fetching.rest()
        fetching.noon.push(rest)
    await fetched(api, 4)
    assert await fetching.stored() == [7]


async def test_without_updates_for_three_polls_it_gives_up(
    api: Loopback, fetching: Fetching
) -> None:
    api.answers["getUpdates"].extend([hang_up] * 20)
    while not fetching.task.done():
        await fetching.rest()
        fetching.noon.push(1)
    with pytest.raises(NoUpdates):
        await fetching.task
    assert fetching.noon.now() - NOON > timedelta(seconds=45)


async def test_failures_around_a_long_sleep_are_no_reason_to_give_up(
    api: Loopback, fetching: Fetching
) -> None:
    api.answers["getUpdates"].extend([hang_up, hang_up])
    for sleep in (8 * 3600, 30):
        await fetching.rest()
        fetching.noon.push(sleep)
    api.happens(said(7))
    await fetched(api, 4)
    assert not fetching.task.done()


async def test_a_wrong_token_is_fatal(api: Loopback, fetching: Fetching) -> None:
    api.answers["getUpdates"].append(refusal(401, "Unauthorized"))
    with pytest.raises(ChatRefusesUs):
        await fetching.task


async def test_another_process_with_our_token_is_fatal_when_it_stays(
    api: Loopback, fetching: Fetching
) -> None:
    """It gets its turn in between, and so do we: successes don't excuse the conflicts."""
    for round_ in range(2):
        api.answers["getUpdates"].append(CONFLICT)
        api.happens(said(round_))
        await fetching.rest()
        assert not fetching.task.done()
        fetching.noon.push(30)
        await fetched(api, 2 * round_ + 3)
    api.answers["getUpdates"].append(CONFLICT)
    api.happens(said(5))
    with pytest.raises(ChatRefusesUs):
        await fetching.task


async def test_an_outage_is_told_in_the_same_transaction(
    api: Loopback, database: Database, application: AnyApplication, noon: FixedClock
) -> None:
    async with database.transaction() as tx:
        await pulse.note_beat(tx, pulse.POLL, NOON - timedelta(minutes=3))
    fetching = Fetching(application, database, noon)
    api.happens(said(7))
    await fetched(api, 2)
    assert fetching.outages == [(NOON - timedelta(minutes=3), NOON)]
    fetching.task.cancel()
    await asyncio.gather(fetching.task, return_exceptions=True)


@pytest.mark.parametrize(
    ("update", "key"),
    [
        (said(1, person=5), "from 5"),
        ({"update_id": 1, "callback_query": {"id": "x", "from": {"id": 6}}}, "from 6"),
        ({"update_id": 1, "my_chat_member": {"chat": {"id": -3}, "from": {"id": 6}}}, "from 6"),
        ({"update_id": 1, "channel_post": {"chat": {"id": -3}}}, "chat -3"),
        ({"update_id": 1}, "nobody"),
    ],
)
def test_each_update_belongs_to_somebody(update: dict[str, object], key: str) -> None:
    assert person_key(update) == key


anything = st.recursive(
    st.none() | st.booleans() | st.integers() | st.text(st.characters(), max_size=5),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(
            st.sampled_from(["update_id", "message", "from", "chat", "id", "x"]), inner
        )
    ),
    max_leaves=12,
)


@given(st.lists(anything, max_size=4))
def test_no_shape_is_too_strange(updates: list[object]) -> None:
    known = [made for made in map(as_incoming, updates) if made is not None]
    assert all(made.document.isascii() for made in known)
    assert (next_offset(updates) is None) == (not known)


def test_of_a_pressed_message_only_its_place_is_stored() -> None:
    """As the Bot API writes a message that can't be looked at (InaccessibleMessage): date 0.

    It's ours: neither its words nor its buttons are of any use, and both are long.
    """
    place = {"message_id": 5, "chat": {"id": 3, "type": "private"}}
    words = {"date": 1, "text": "How was it?", "reply_markup": {"inline_keyboard": []}}
    press = {"id": "9", "from": {"id": 3}, "data": "x", "chat_instance": "y"}
    came = {"update_id": 7, "callback_query": {**press, "message": {**place, **words}}}
    stored = as_incoming(came)
    assert stored is not None
    assert json.loads(stored.document) == {
        "update_id": 7,
        "callback_query": {**press, "message": {**place, "date": 0}},
    }
