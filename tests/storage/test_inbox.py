"""What came in is kept once, handed out in order, and put away when done."""

from collections.abc import Iterator, Mapping
from datetime import timedelta
from typing import Any

import pytest

from bot.storage import inbox
from bot.storage.database import Database
from bot.storage.inbox import Incoming
from bot.storage.moments import write_moment
from tests.fixed_clock import NOON, FixedClock


def update(number: int, person: str = "from 1") -> Incoming:
    return Incoming(
        update_id=number, person_key=person, document=inbox.as_document({"update_id": number})
    )


def numbers(updates: tuple[Incoming, ...]) -> list[int]:
    return [one.update_id for one in updates]


async def test_an_update_that_comes_twice_is_kept_once(database: Database) -> None:
    async with database.transaction() as tx:
        assert numbers(await inbox.receive(tx, [update(7), update(8)], NOON)) == [7, 8]
        assert numbers(await inbox.receive(tx, [update(8), update(9)], NOON)) == [9]
        assert numbers(await inbox.waiting(tx)) == [7, 8, 9]


async def test_an_update_that_comes_again_after_it_was_done_stays_done(database: Database) -> None:
    async with database.transaction() as tx:
        await inbox.receive(tx, [update(7)], NOON)
        await inbox.mark_done(tx, 7, NOON)
        assert await inbox.receive(tx, [update(7)], NOON) == ()
        assert await inbox.is_done(tx, 7)
        assert await inbox.waiting(tx) == ()


async def test_the_order_is_that_of_arrival_and_not_of_numbers(database: Database) -> None:
    """The chat API may restart its numbers anywhere."""
    async with database.transaction() as tx:
        await inbox.receive(tx, [update(900), update(901)], NOON)
        await inbox.receive(tx, [update(5)], NOON)
        assert numbers(await inbox.waiting(tx)) == [900, 901, 5]


async def test_one_person_waits_for_their_own_first_and_not_for_others(database: Database) -> None:
    async with database.transaction() as tx:
        await inbox.receive(
            tx, [update(1, "a"), update(2, "a"), update(3, "b"), update(4, "a")], NOON
        )
        assert numbers(await inbox.heads(tx, NOON, 10)) == [1, 3]
        await inbox.mark_done(tx, 1, NOON)
        assert numbers(await inbox.heads(tx, NOON, 10)) == [2, 3]
        assert numbers(await inbox.heads(tx, NOON, 1)) == [2]


@pytest.mark.of_servers
@pytest.mark.parametrize("usual", ["nothing is known", "nobody waits"])
async def test_what_piled_up_in_an_outage_is_looked_through_once(
    database: Database, usual: str
) -> None:
    done, waiting = range(400), range(400, 1000)
    async with database.transaction() as tx:
        await inbox.receive(tx, [update(each) for each in done], NOON)
        for each in done:
            await inbox.mark_done(tx, each, NOON)
        if usual == "nobody waits":
            await tx.execute("ANALYZE inbox")
        await inbox.receive(tx, [update(each, f"from {each // 60}") for each in waiting], NOON)
        explain = f"EXPLAIN (ANALYZE, FORMAT JSON) {inbox.HEADS}"
        ((plan,),) = await tx.all(explain, now=write_moment(NOON), limit=32)
    assert sum(map(rows_seen, steps(plan[0]["Plan"]))) < 10 * len(waiting)


def steps(plan: Mapping[str, Any]) -> Iterator[Mapping[str, Any]]:
    """Every step of a server's plan."""
    yield plan
    for part in plan.get("Plans", ()):
        yield from steps(part)


def rows_seen(step: Mapping[str, Any]) -> int:
    """How many rows it looked at in all, as far as the server tells."""
    seen = [step["Actual Rows"], *(step[each] for each in step if each.startswith("Rows Removed"))]
    return int(sum(seen) * step["Actual Loops"])


async def test_a_failed_try_rests_and_keeps_its_place(database: Database, noon: FixedClock) -> None:
    async with database.transaction() as tx:
        await inbox.receive(tx, [update(1, "a"), update(2, "a"), update(3, "b")], NOON)
        await inbox.count_try(tx, 1, NOON, timedelta(seconds=2))
        assert numbers(await inbox.heads(tx, NOON, 10)) == [3]
        assert await inbox.next_retry(tx, NOON) == NOON + timedelta(seconds=2)
        later = noon.push(2)
        assert numbers(await inbox.heads(tx, later, 10)) == [1, 3]
        assert (await inbox.heads(tx, later, 1))[0].tries == 1


async def test_a_parked_update_lets_the_next_one_pass_and_is_kept(database: Database) -> None:
    async with database.transaction() as tx:
        await inbox.receive(tx, [update(1), update(2)], NOON)
        await inbox.park(tx, 1, "unreadable: KeyError", NOON)
        assert numbers(await inbox.heads(tx, NOON, 10)) == [2]
        row = await tx.one("SELECT document, problem FROM inbox WHERE update_id = 1")
        assert row is not None
        assert tuple(row) == ('{"update_id":1}', "unreadable: KeyError")
        await inbox.mark_done(tx, 1, NOON)
        assert not await inbox.is_done(tx, 1)


async def test_what_was_said_is_emptied_once_it_is_done(database: Database) -> None:
    async with database.transaction() as tx:
        await inbox.receive(tx, [update(1)], NOON)
        await inbox.mark_done(tx, 1, NOON)
        assert await tx.value("SELECT document FROM inbox") == "{}"


async def test_pruning_takes_the_old_and_never_the_waiting(
    database: Database, noon: FixedClock
) -> None:
    async with database.transaction() as tx:
        await inbox.receive(tx, [update(1), update(2), update(3), update(4)], NOON)
        await inbox.mark_done(tx, 1, NOON)
        await inbox.park(tx, 2, "no", NOON)
        later = noon.push(3600)
        await inbox.mark_done(tx, 3, later)
        assert await inbox.prune(tx, later) == 2
        assert await inbox.is_done(tx, 3)
        assert numbers(await inbox.waiting(tx)) == [4]


async def test_forgetting_a_person_empties_what_was_parked(database: Database) -> None:
    async with database.transaction() as tx:
        await inbox.receive(tx, [update(1, "a"), update(2, "a"), update(3, "b")], NOON)
        for number in (1, 3):
            await inbox.park(tx, number, "no", NOON)
        await inbox.forget(tx, "a")
        rows = await tx.all("SELECT document FROM inbox ORDER BY arrival")
        assert [row["document"] for row in rows] == ["{}", '{"update_id":2}', '{"update_id":3}']
