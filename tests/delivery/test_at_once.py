"""A change that is alone goes as soon as it is committed; whatever isn't waits for its turn."""

import asyncio
from datetime import datetime, timedelta

import pytest

from bot.delivery.sender import MOST_AT_ONCE
from bot.storage import outbox, outgoing, reach
from bot.storage.database import Transaction
from bot.storage.outbox import Letter
from tests.delivery.loopback import Loopback, held, refusal
from tests.delivery.sending import House, letter, tap
from tests.fixed_clock import NOON


@pytest.fixture
def looks(house: House, monkeypatch: pytest.MonkeyPatch) -> list[datetime]:
    """When it was looked for letters that can go."""
    found: list[datetime] = []
    heads = outgoing.heads

    async def noted(tx: Transaction, now: datetime) -> tuple[outgoing.Head, ...]:
        found.append(now)
        return await heads(tx, now)

    monkeypatch.setattr(outgoing, "heads", noted)
    return found


async def queue_and_fail(house: House, one: Letter) -> None:
    """Queue a letter in a transaction that comes to nothing."""
    async with house.database.transaction() as tx:
        await outbox.queue(tx, one, NOON)
        raise ZeroDivisionError


def changes(api: Loopback) -> list[str]:
    return [str(arguments["text"]) for arguments in api.of("editMessageText")]


async def test_a_change_that_is_alone_goes_without_a_look(
    api: Loopback, house: House, looks: list[datetime]
) -> None:
    await house.post(letter("before"))
    seen = len(looks)
    for number in range(3):
        house.noon.push(2)
        await house.queue(tap(f"{number}"))
        assert (await house.states())[f"{number}"] == "sending"
        await api.until("editMessageText", number + 1)
        while house.delivery.busy:  # noqa: ASYNC110 - idle would look
            await asyncio.sleep(0)
    assert len(looks) == seen
    assert changes(api) == ["0", "1", "2"]
    assert set((await house.states()).values()) == {"sent"}
    async with house.database.transaction() as tx:
        tried = await outgoing.recently_tried(tx, house.noon.now() - timedelta(seconds=5))
        rows = await tx.all("SELECT tries, arguments FROM outbox")
    assert [moment for _, moment in tried] == [NOON + timedelta(seconds=n) for n in (2, 4, 6)]
    assert {tuple(row) for row in rows} == {(1, "{}")}


@pytest.mark.parametrize(
    "other",
    [
        letter("new message", at_once=True),
        tap("another letter's message", edits="question"),
        tap("for later", not_before=NOON),
        tap("for now only", not_after=NOON + timedelta(hours=1)),
        tap("leaves nothing", passing=True),
        tap("patient", at_once=False),
    ],
    ids=lambda other: other.id,
)
async def test_whatever_else_is_looked_for(house: House, other: Letter) -> None:
    await house.post(letter("before"))
    await house.queue(other)
    assert (await house.states())[other.id] == "queued"
    await house.settled()


async def test_a_change_does_not_overtake_what_was_queued_before_it(
    api: Loopback, house: House
) -> None:
    await house.post(letter("question"))
    await house.queue(letter("message"), tap("change"))
    assert await house.states() == {"question": "sent", "message": "queued", "change": "queued"}
    await house.settled()
    told = [call.method for call in api.calls if call.method != "getUpdates"]
    assert told[-3:] == ["sendMessage", "sendMessage", "editMessageText"]


async def test_nor_what_the_sender_has_not_seen_yet(house: House) -> None:
    await house.post(letter("question"))
    await house.queue(letter("message"))
    await house.queue(tap("change"))
    assert (await house.states())["change"] == "queued"
    await house.settled()


async def test_nor_what_the_sender_is_about_to_see(house: House) -> None:
    await house.post(letter("question"))
    await house.queue(letter("message"))
    async with house.database.transaction() as tx:
        for _ in range(5):  # its turn has begun, and waits for this transaction to end
            await asyncio.sleep(0)
        await outbox.queue(tx, tap("change"), NOON)
    assert (await house.states())["change"] == "queued"
    await house.settled()


async def test_nor_what_waits_for_the_limits(api: Loopback, house: House) -> None:
    await house.queue(*(letter(f"{number}") for number in range(3)))
    await api.until("sendMessage", 2)
    while house.delivery.busy or house.noon.at_rest < 2:  # noqa: ASYNC110 - idle it isn't
        await asyncio.sleep(0)
    house.noon.push(1)  # now both may go, and the sender hasn't looked yet
    await house.queue(tap("change"))
    assert (await house.states())["2"] == "queued"
    assert (await house.states())["change"] == "queued"
    await house.settled()


async def test_of_two_changes_in_one_transaction_the_second_waits_its_turn(
    api: Loopback, house: House
) -> None:
    """Both may go at once by themselves, but not both together without a look at the limits."""
    await house.post(letter("before"))
    await house.queue(tap("a"), tap("b", chat=2))
    assert [await house.states()] == [{"before": "sent", "a": "sending", "b": "queued"}]
    await house.settled()
    assert sorted(changes(api)) == ["a", "b"]


async def test_a_change_waits_for_the_one_in_the_air(api: Loopback, house: House) -> None:
    landing = asyncio.Event()
    await house.post(letter("before"))
    house.noon.push(5)
    api.answers["editMessageText"].append(held(landing))
    await house.queue(tap("a", slot="q"))
    await house.queue(tap("b", slot="q"))
    assert (await house.states()) == {"before": "sent", "a": "sending", "b": "queued"}
    landing.set()
    await house.settled()
    assert changes(api) == ["a", "b"]


async def test_only_so_many_go_at_once(api: Loopback, house: House) -> None:
    landing = asyncio.Event()
    await house.post(letter("before"))
    api.answers["editMessageText"].extend([held(landing)] * MOST_AT_ONCE)
    for chat in range(MOST_AT_ONCE + 1):
        await house.queue(tap(f"{chat}", 10 + chat))
    states = list((await house.states()).values())
    assert states == ["sent", *["sending"] * MOST_AT_ONCE, "queued"]
    landing.set()
    await house.settled()


async def test_of_two_changes_of_a_message_that_is_gone_the_last_comes_anew(
    api: Loopback, house: House
) -> None:
    landing = asyncio.Event()
    gone = held(landing, refusal(400, "Bad Request: message to edit not found"))
    await house.post(letter("before", chat=2))
    api.answers["editMessageText"].extend([gone, gone])
    await house.queue(tap("a", slot="q", anew=True))
    await house.queue(tap("b", slot="q", anew=True))
    landing.set()
    await house.settled()
    assert [call["text"] for call in api.of("sendMessage")] == ["before", "b"]
    assert await house.states() == {"before": "sent", "a": "superseded", "b": "sent"}


async def test_a_change_keeps_to_the_limits(api: Loopback, house: House) -> None:
    await house.post(letter("before"))
    house.noon.push(5)
    for number in range(4):
        await house.queue(tap(f"{number}"))
        await house.settled()
    assert changes(api) == ["0", "1", "2", "3"]
    assert house.noon.now() >= NOON + timedelta(seconds=5 + 2)


async def test_a_change_waits_while_its_chat_is_to_be_left_alone(
    api: Loopback, house: House
) -> None:
    await house.post(letter("before"))
    api.answers["editMessageText"].append(refusal(429, "Too Many Requests", retry_after=20))
    await house.post(tap("a"))
    await house.post(tap("b"))
    assert changes(api) == ["a"]
    house.noon.push(21)
    await house.settled()
    assert changes(api) == ["a", "a", "b"]


async def test_a_change_waits_even_if_nothing_else_does(api: Loopback, house: House) -> None:
    async with house.database.transaction() as tx:
        await reach.pause(tx, 1, NOON + timedelta(seconds=60), NOON)
    await house.post(letter("for another chat", chat=2))
    await house.post(tap("a"))
    assert changes(api) == []
    house.noon.push(60)
    await house.settled()
    assert changes(api) == ["a"]


async def test_what_is_undone_does_not_go(api: Loopback, house: House) -> None:
    await house.post(letter("before"))
    with pytest.raises(ZeroDivisionError):
        await queue_and_fail(house, tap("a"))
    await house.post(tap("b"))
    assert changes(api) == ["b"]


async def test_a_change_queued_twice_goes_once(api: Loopback, house: House) -> None:
    await house.post(letter("before"))
    for _ in range(2):
        house.noon.push(5)
        await house.post(tap("a"))
    assert changes(api) == ["a"]


async def test_a_change_for_whoever_blocks_us_is_dropped(api: Loopback, house: House) -> None:
    async with house.database.transaction() as tx:
        await reach.mark_unreachable(tx, 1, "blocked", NOON)
    await house.settled()
    await house.post(tap("a"))
    assert await house.states() == {"a": "dropped"}
    assert changes(api) == []


async def test_what_nobody_was_told_of_is_found_and_in_doubt(api: Loopback, house: House) -> None:
    """A server goes away while it commits, and has done so: nobody has sent it."""
    await house.post(letter("before"))
    async with house.database.transaction() as tx:
        await outbox.queue(tx, tap("a"), NOON)
        tx.told.clear()
    assert (await house.states())["a"] == "sending"
    house.noon.push(15)  # the next look
    await api.until("editMessageText", 1)
    await house.settled()
    assert changes(api) == ["a"]
    assert (await house.states())["a"] == "sent"
