"""What one person sends beyond their allowance is put away, also across restarts and clocks."""

from datetime import datetime, timedelta

import pytest

from bot.storage import inbox
from bot.storage.database import Database
from bot.storage.floods import Allowance, put_away
from bot.storage.inbox import Incoming
from tests.fixed_clock import NOON

SMALL = Allowance(most=3, window=timedelta(minutes=1))


def updates(first: int, count: int, person: str = "from 1") -> list[Incoming]:
    numbers = range(first, first + count)
    return [Incoming(update_id=each, person_key=person, document='{"a":1}') for each in numbers]


async def put(database: Database, sent: list[Incoming], now: datetime = NOON) -> list[int]:
    """Receive these; the numbers of those that were put away."""
    async with database.transaction() as tx:
        new = await inbox.receive(tx, sent, now)
        return [each.update_id for each in await put_away(tx, new, now, SMALL)]


async def test_what_goes_beyond_is_done_unread_and_the_rest_waits(database: Database) -> None:
    assert await put(database, updates(1, 5)) == [4, 5]
    async with database.transaction() as tx:
        assert [each.update_id for each in await inbox.waiting(tx)] == [1, 2, 3]
        row = await tx.one("SELECT document, problem, done_at FROM inbox WHERE update_id = 5")
    assert row is not None
    assert (row["document"], row["problem"]) == ("{}", "too much")
    assert row["done_at"] is not None


async def test_everybody_has_an_allowance_of_their_own(database: Database) -> None:
    pairs = zip(updates(1, 4), updates(11, 4, "from 2"), strict=True)
    both = [each for pair in pairs for each in pair]
    assert await put(database, both) == [4, 14]


async def test_groups_and_nobody_have_none(database: Database) -> None:
    assert await put(database, [*updates(1, 9, "chat -5"), *updates(21, 9, "nobody")]) == []


async def test_nothing_is_forgotten_between_polls_and_what_was_put_away_does_not_count(
    database: Database,
) -> None:
    assert await put(database, updates(1, 3)) == []
    assert await put(database, updates(4, 30)) == list(range(4, 34))
    a_minute_later = NOON + SMALL.window
    assert await put(database, updates(40, 4), a_minute_later) == [43]


async def test_handling_some_of_it_does_not_make_more_room(database: Database) -> None:
    await put(database, updates(1, 3))
    async with database.transaction() as tx:
        await inbox.mark_done(tx, 1, NOON)
    assert await put(database, updates(4, 1)) == [4]


async def test_what_comes_twice_counts_once(database: Database) -> None:
    for _ in range(4):
        assert await put(database, updates(1, 3)) == []


async def test_a_clock_that_is_set_back_silences_nobody(database: Database) -> None:
    assert await put(database, updates(1, 3), NOON + timedelta(hours=5)) == []
    assert await put(database, updates(4, 3), NOON) == []


@pytest.mark.of_files
async def test_counting_looks_at_the_last_minutes_alone(database: Database) -> None:
    sql = """SELECT count(*) FROM inbox AS earlier WHERE earlier.person_key = 'from 1'
    AND earlier.problem IS NULL AND earlier.received_at > 'a' AND earlier.received_at <= 'b'"""
    async with database.transaction() as tx:
        plan = await tx.all(f"EXPLAIN QUERY PLAN {sql}")
    assert "inbox_of_late (person_key=? AND received_at>? AND received_at<?)" in plan[0]["detail"]
