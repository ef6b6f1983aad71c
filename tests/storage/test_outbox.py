"""A letter is queued once, goes in its turn, and makes way for a newer one of its slot."""

from dataclasses import replace
from datetime import timedelta
from typing import Any

from bot.storage import outbox, outcomes, outgoing, reach
from bot.storage.database import Database, Transaction
from bot.storage.outbox import OUTBOX, Attachment, Kind, Letter, Priority
from tests.fixed_clock import NOON


def letter(name: str, chat: int = 1, **more: Any) -> Letter:
    plain = Letter(
        id=name,
        chat=chat,
        method="sendMessage",
        arguments={"text": f"{name} ✓"},
        priority=Priority.PROMPT,
        kind=Kind.PROMPT,
    )
    return replace(plain, **more)


async def queue(tx: Transaction, *letters: Letter) -> None:
    for one in letters:
        assert await outbox.queue(tx, one, NOON)


async def heads(tx: Transaction, seconds: int = 0) -> list[str]:
    return [head.id for head in await outgoing.heads(tx, NOON + timedelta(seconds=seconds))]


async def test_a_letter_comes_out_as_it_went_in(database: Database) -> None:
    file = Attachment(field="document", name="week.csv", content=b"\x00\xff")
    arguments = {"caption": "„half\ud800", "reply_markup": {"inline_keyboard": []}}
    async with database.transaction() as tx:
        await queue(tx, letter("a", arguments=arguments, file=file))
        taken = await outgoing.claim(tx, "a", NOON)
    assert taken is not None
    assert (taken.arguments, taken.file, taken.chat) == (arguments, file, 1)


async def test_the_second_letter_with_an_id_is_ignored(database: Database) -> None:
    async with database.transaction() as tx:
        await queue(tx, letter("a"))
        assert not await outbox.queue(tx, letter("a", arguments={"text": "other"}), NOON)
        taken = await outgoing.claim(tx, "a", NOON)
        assert taken is not None
        assert taken.arguments == {"text": "a ✓"}


async def test_a_letter_is_claimed_once(database: Database) -> None:
    async with database.transaction() as tx:
        await queue(tx, letter("a"))
        assert await outgoing.claim(tx, "a", NOON) is not None
        assert await outgoing.claim(tx, "a", NOON) is None


async def test_the_sender_is_woken(database: Database) -> None:
    async with database.transaction() as tx:
        await queue(tx, letter("a"))
    assert database.woken(OUTBOX).is_set()


async def test_urgent_chats_go_first_and_each_in_its_order(database: Database) -> None:
    async with database.transaction() as tx:
        await queue(tx, letter("1", 1, priority=Priority.DIGEST), letter("2", 2), letter("3", 3))
        await queue(tx, letter("4", 3, priority=Priority.URGENT))
        await queue(tx, letter("5", 4, priority=Priority.INTERACTIVE))
        assert await heads(tx) == ["3", "5", "2", "1"]


async def test_a_chat_waits_while_one_of_its_letters_is_in_the_air(database: Database) -> None:
    async with database.transaction() as tx:
        await queue(tx, letter("a", not_before=NOON + timedelta(seconds=5)), letter("b"))
        await outgoing.claim(tx, "b", NOON)
        assert await heads(tx, seconds=5) == []  # "a" is due by now, and before "b" in order
        await outcomes.sent(tx, "b", 1, NOON)
        assert await heads(tx, seconds=5) == ["a"]


async def test_a_letter_not_sent_holds_up_its_chat_and_one_in_doubt_does_not(
    database: Database,
) -> None:
    async with database.transaction() as tx:
        await queue(tx, letter("a"), letter("b"), letter("c", 2), letter("d", 2))
        await outgoing.claim(tx, "a", NOON)
        await outcomes.again_at(tx, "a", NOON + timedelta(seconds=9.5))
        await outgoing.claim(tx, "c", NOON)
        await outcomes.in_doubt(tx, "c", NOON)
        assert await heads(tx) == ["d"]
        assert await outgoing.next_moment(tx, NOON) == NOON + timedelta(seconds=10)
        assert await heads(tx, seconds=9) == ["d"]
        assert await heads(tx, seconds=10) == ["a", "d"]
        assert await heads(tx, seconds=60) == ["a", "c"]


async def test_a_newer_letter_takes_the_slot_in_its_own_chat_only(database: Database) -> None:
    async with database.transaction() as tx:
        await queue(tx, letter("a", slot="s"), letter("b", 2, slot="s"), letter("c", slot="t"))
        await queue(tx, letter("d", slot="s"))
        rows = await tx.all("SELECT id FROM outbox WHERE state = 'superseded'")
        assert [row["id"] for row in rows] == ["a"]


async def test_an_edit_replaces_a_letter_that_is_put_off(database: Database) -> None:
    """It may not have arrived: the newer words go out as a message, the older ones no more."""
    async with database.transaction() as tx:
        await queue(tx, letter("a"))
        await outgoing.claim(tx, "a", NOON)
        await outcomes.in_doubt(tx, "a", NOON)
        await queue(tx, letter("b", method="editMessageText", edits="a", anew=True))
        taken = await outgoing.claim(tx, "b", NOON)
        assert taken is not None
        assert taken.method == "sendMessage"
        await outcomes.sent(tx, "b", 77, NOON)
        assert await heads(tx, seconds=600) == []
        assert await outbox.message_of(tx, "a") == 77


async def test_nothing_is_queued_for_an_unreachable_chat(database: Database) -> None:
    async with database.transaction() as tx:
        assert await reach.mark_unreachable(tx, 1, "blocked", NOON)
        assert not await reach.mark_unreachable(tx, 1, "blocked", NOON)
        await queue(tx, letter("a"))
        assert await heads(tx) == []
        assert await reach.clear_unreachable(tx, 1)
        await queue(tx, letter("b"))
        assert await heads(tx) == ["b"]


async def test_a_pause_is_over_when_it_is_over(database: Database) -> None:
    async with database.transaction() as tx:
        await queue(tx, letter("a"), letter("b", 2))
        await reach.pause(tx, 1, NOON + timedelta(seconds=30), NOON)
        await reach.pause(tx, 1, NOON + timedelta(seconds=10), NOON)  # does not shorten it
        assert await heads(tx) == ["b"]
        assert await heads(tx, seconds=29) == ["b"]
        assert await heads(tx, seconds=30) == ["a", "b"]


async def test_forgetting_a_chat_leaves_the_others(database: Database) -> None:
    async with database.transaction() as tx:
        await queue(tx, letter("a"), letter("b", 2))
        await reach.forget_chat(tx, 1)
        assert [row["id"] for row in await tx.all("SELECT id FROM outbox")] == ["b"]


async def test_pruning_takes_only_what_ended_long_ago(database: Database) -> None:
    later = NOON + timedelta(days=90)
    async with database.transaction() as tx:
        await queue(tx, letter("a"), letter("b"), letter("c"))
        for name, moment in (("a", NOON), ("b", later)):
            await outgoing.claim(tx, name, NOON)
            await outcomes.sent(tx, name, 1, moment)
        assert await outbox.prune(tx, later) == 1
        assert [row["id"] for row in await tx.all("SELECT id FROM outbox ORDER BY id")] == [
            "b",
            "c",
        ]
