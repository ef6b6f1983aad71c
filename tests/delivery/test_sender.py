"""The outbox loop against real HTTP: what the chat gets, and what the rows say afterwards."""

import asyncio
from datetime import timedelta

import pytest

from bot.delivery.handling import AnyApplication
from bot.delivery.sender import MOST_AT_ONCE
from bot.errors import ChatRefusesUs
from bot.storage import outbox, outcomes, outgoing, reach
from bot.storage.database import Database
from bot.storage.outbox import Attachment, Kind, Priority
from tests.delivery.loopback import Loopback, hang_up, held, refusal
from tests.delivery.sending import House, letter, open_house, tap
from tests.fixed_clock import NOON, FixedClock


def texts(api: Loopback) -> list[str]:
    return [str(arguments["text"]) for arguments in api.of("sendMessage")]


async def test_a_letter_queued_twice_is_sent_once(api: Loopback, house: House) -> None:
    await house.post(letter("a"), letter("a"))
    await house.post(letter("a"))
    assert api.of("sendMessage") == [{"chat_id": 1, "text": "a"}]
    async with house.database.transaction() as tx:
        assert await outbox.message_of(tx, "a") == 1
        assert await tx.value("SELECT arguments FROM outbox") == "{}"


async def test_a_chat_gets_its_letters_in_order(api: Loopback, house: House) -> None:
    names = [f"{number}" for number in range(6)]
    await house.post(*(letter(name) for name in names))
    assert texts(api) == names


async def test_an_urgent_letter_pulls_its_chat_forward(api: Loopback, house: House) -> None:
    """Nine digests for others wait at the door, more than go at once."""
    digests = [letter(f"digest {n}", chat=n, priority=Priority.DIGEST) for n in range(10, 19)]
    await house.post(
        *digests,
        letter("before", chat=2),
        letter("urgent", chat=2, priority=Priority.URGENT, kind=Kind.ALERT),
    )
    sent = texts(api)
    assert sent.index("before") < MOST_AT_ONCE
    assert sent.index("before") < sent.index("urgent")


async def test_an_edit_finds_the_message_of_its_letter(api: Loopback, house: House) -> None:
    await house.post(letter("question"))
    await house.post(letter("answer", method="editMessageText", edits="question"))
    assert api.of("editMessageText") == [{"chat_id": 1, "text": "answer", "message_id": 1}]


async def test_of_quick_edits_only_the_last_is_sent(api: Loopback, house: House) -> None:
    await house.post(letter("question"))
    edits = [
        letter(f"tap {n}", method="editMessageText", edits="question", slot="q") for n in range(4)
    ]
    await house.post(*edits)
    assert [call["text"] for call in api.of("editMessageText")] == ["tap 3"]
    assert (await house.states())["tap 0"] == "superseded"


async def test_an_edit_of_a_deleted_message_comes_as_a_new_one(api: Loopback, house: House) -> None:
    await house.post(letter("question"))
    api.answers["editMessageText"].append(refusal(400, "Bad Request: message to edit not found"))
    await house.post(letter("one", method="editMessageText", edits="question", anew=True))
    await house.post(letter("two", method="editMessageText", edits="question", anew=True))
    assert texts(api) == ["question", "one"]
    assert [call["message_id"] for call in api.of("editMessageText")] == [1, 2]


async def test_an_edit_that_may_not_come_anew_is_dropped(api: Loopback, house: House) -> None:
    await house.post(letter("edit", method="editMessageText", edits="never queued"))
    assert await house.states() == {"edit": "dropped"}
    assert len(api.of("editMessageText")) == 0


async def test_an_unchanged_edit_counts_as_sent(api: Loopback, house: House) -> None:
    api.answers["editMessageText"].append(refusal(400, "Bad Request: message is not modified"))
    arguments = {"text": "same", "message_id": 5}
    await house.post(letter("edit", method="editMessageText", arguments=arguments))
    assert await house.states() == {"edit": "sent"}


async def test_a_file_goes_with_its_letter_and_does_not_stay(api: Loopback, house: House) -> None:
    picture = Attachment(field="photo", name="week.png", content=b"\x89PNG")
    await house.post(letter("a", method="sendPhoto", arguments={"caption": "x"}, file=picture))
    (call,) = (call for call in api.calls if call.method == "sendPhoto")
    assert call.files == {"photo": b"\x89PNG"}
    assert call.arguments == {"chat_id": 1, "caption": "x"}
    async with house.database.transaction() as tx:
        assert await tx.value("SELECT file FROM outbox") is None


async def test_too_many_requests_pauses_that_chat_alone(api: Loopback, house: House) -> None:
    api.answers["sendMessage"].append(refusal(429, "Too Many Requests", retry_after=20))
    await house.post(letter("a"))
    await house.post(letter("b"), letter("other", chat=2))
    assert texts(api) == ["a", "other"]
    house.noon.push(20)
    await house.settled()
    assert texts(api) == ["a", "other", "a", "b"]


async def test_a_second_chat_with_too_many_requests_pauses_everybody(
    api: Loopback, house: House
) -> None:
    too_many = refusal(429, "Too Many Requests", retry_after=20)
    api.answers["sendMessage"].extend([too_many, too_many])
    await house.post(letter("a"))
    await house.post(letter("b", chat=2))
    await house.post(letter("c", chat=3))
    assert texts(api) == ["a", "b"]
    house.noon.push(21)
    await house.settled()
    assert sorted(texts(api)) == ["a", "a", "b", "b", "c"]


async def test_a_chat_that_blocks_us_is_left_alone_until_it_writes(
    api: Loopback, house: House
) -> None:
    api.answers["sendMessage"].append(refusal(403, "Forbidden: bot was blocked by the user"))
    await house.post(letter("a"), letter("b"))
    await house.post(letter("c"))
    assert texts(api) == ["a"]
    assert set((await house.states()).values()) == {"dropped"}
    assert house.told == [("unreachable", 1)]
    async with house.database.transaction() as tx:
        assert await reach.clear_unreachable(tx, 1)
    await house.post(letter("d"))
    assert texts(api) == ["a", "d"]


async def test_letters_follow_a_group_that_moved(api: Loopback, house: House) -> None:
    moved = refusal(400, "Bad Request: group chat was upgraded", migrate_to_chat_id=-1001)
    api.answers["sendMessage"].append(moved)
    await house.post(letter("a", chat=-5), letter("b", chat=-5))
    assert [call["chat_id"] for call in api.of("sendMessage")] == [-5, -1001, -1001]
    assert texts(api) == ["a", "a", "b"]
    assert house.told == [("moved", -5, -1001)]


async def test_a_message_the_api_refuses_does_not_hold_up_the_next(
    api: Loopback, house: House
) -> None:
    api.answers["sendMessage"].append(refusal(400, "Bad Request: can't parse entities"))
    await house.post(letter("a"), letter("b"))
    assert await house.states() == {"a": "failed", "b": "sent"}


async def test_a_confirmation_in_doubt_is_never_repeated(api: Loopback, house: House) -> None:
    api.answers["sendMessage"].append(hang_up)
    await house.post(letter("a"))
    house.noon.push(600)
    await house.settled()
    assert texts(api) == ["a"]
    assert await house.states() == {"a": "uncertain"}


async def test_an_alert_in_doubt_is_repeated_and_says_so(api: Loopback, house: House) -> None:
    api.answers["sendMessage"].append(hang_up)
    await house.post(letter("a", kind=Kind.ALERT, if_repeated="(perhaps again)"))
    house.noon.push(10)
    await house.settled()
    assert texts(api) == ["a", "a\n(perhaps again)"]
    assert await house.states() == {"a": "sent"}


async def test_a_prompt_in_doubt_is_not_repeated_once_it_is_answered(
    api: Loopback, house: House
) -> None:
    api.answers["sendMessage"].append(hang_up)
    await house.post(letter("a", kind=Kind.PROMPT))
    async with house.database.transaction() as tx:
        assert await outbox.withdraw(tx, "a", house.noon.now())
    house.noon.push(60)
    await house.settled()
    assert texts(api) == ["a"]


async def test_a_letter_that_is_too_late_is_dropped(api: Loopback, house: House) -> None:
    await house.post(letter("a", not_after=NOON - timedelta(seconds=1)))
    assert await house.states() == {"a": "dropped"}
    assert texts(api) == []


async def test_a_letter_waits_for_its_moment_and_others_pass(api: Loopback, house: House) -> None:
    await house.post(letter("a", not_before=NOON + timedelta(seconds=300)), letter("b"))
    assert texts(api) == ["b"]
    house.noon.push(300)
    await house.settled()
    assert texts(api) == ["b", "a"]


async def test_a_wrong_token_stops_the_house(api: Loopback, house: House) -> None:
    api.answers["sendMessage"].append(refusal(401, "Unauthorized"))
    await house.queue(letter("a"))
    with pytest.raises(ChatRefusesUs, match="Unauthorized"):
        await house.tasks.failed


async def test_what_was_in_the_air_at_a_crash_is_in_doubt(
    api: Loopback, application: AnyApplication, database: Database, noon: FixedClock
) -> None:
    async with database.transaction() as tx:
        for one in (letter("a"), letter("b", chat=2, kind=Kind.DIGEST), letter("c", chat=3)):
            await outbox.queue(tx, one, NOON)
        await outbox.queue(tx, tap("d", 4), NOON)
        for name in ("a", "b", "d"):
            await outgoing.claim(tx, name, NOON)
    async with open_house(application, database, noon) as house:
        await api.until("sendMessage", 1)
        await house.settled()
        assert texts(api) == ["c"]
        assert len(api.of("editMessageText")) == 1  # twice is no harm, so it needn't rest
        noon.push(10)
        await house.settled()
        assert texts(api) == ["c", "b"]
        assert await house.states() == {"a": "uncertain", "b": "sent", "c": "sent", "d": "sent"}


async def test_a_change_in_doubt_does_not_come_after_a_newer_one(
    api: Loopback, application: AnyApplication, database: Database, noon: FixedClock
) -> None:
    async with database.transaction() as tx:
        for name in ("old", "new"):
            await outbox.queue(tx, tap(name, slot="7"), NOON)
            await outgoing.claim(tx, "old", NOON)  # then the computer crashes
    async with open_house(application, database, noon) as house:
        await house.settled()
        noon.push(30)
        await house.settled()
        assert [call["text"] for call in api.of("editMessageText")] == ["new"]
        assert await house.states() == {"old": "superseded", "new": "sent"}


async def test_draining_waits_for_what_is_in_the_air(api: Loopback, house: House) -> None:
    landing = asyncio.Event()
    api.answers["sendMessage"].append(held(landing))
    await house.queue(letter("a"))
    await api.until("sendMessage", 1)
    draining = asyncio.create_task(house.delivery.drain())
    assert await house.states() == {"a": "sending"}
    landing.set()
    await draining
    assert await house.states() == {"a": "sent"}


async def test_only_so_many_are_in_the_air_at_once(api: Loopback, house: House) -> None:
    landing = asyncio.Event()
    api.answers["sendMessage"].extend([held(landing)] * (MOST_AT_ONCE + 4))
    await house.queue(*(letter(f"{chat}", chat) for chat in range(1, MOST_AT_ONCE + 5)))
    await api.until("sendMessage", MOST_AT_ONCE)
    states = list((await house.states()).values())
    assert states == ["sending"] * MOST_AT_ONCE + ["queued"] * 4
    landing.set()
    await house.settled()
    assert set((await house.states()).values()) == {"sent"}


async def test_a_new_start_remembers_how_much_a_group_just_got(
    api: Loopback, application: AnyApplication, database: Database, noon: FixedClock
) -> None:
    async with database.transaction() as tx:
        for number in range(19):
            await outbox.queue(tx, letter(f"{number}", chat=-5), NOON)
        for number in range(18):
            await outgoing.claim(tx, f"{number}", NOON)
            await outcomes.sent(tx, f"{number}", number, NOON)
    async with open_house(application, database, noon) as house:
        await house.settled()
        assert texts(api) == ["18"]
        assert noon.now() >= NOON + timedelta(seconds=60)
