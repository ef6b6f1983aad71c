"""Other processes may put what comes in into the inbox of a server; DEVELOPERS.md says how."""

import asyncio

import psycopg
import pytest

from bot.place import Server
from bot.storage import inbox
from bot.storage.database import Database
from bot.storage.moments import write_moment
from tests.fixed_clock import NOON

pytestmark = pytest.mark.of_servers

RECEIVERS, UPDATES, PEOPLE = 2, 60, 7
TURN = "SELECT pg_advisory_xact_lock(1)"
STORE = """
INSERT INTO inbox (update_id, arrival, person_key, document, received_at)
VALUES (%s, (SELECT COALESCE(MAX(arrival), 0) + 1 FROM inbox), %s, '{}', %s)
ON CONFLICT (update_id) DO NOTHING
"""


async def receive(place: Server, numbers: range) -> None:
    """Store updates, as a receiver of webhooks would: at READ COMMITTED, one after the other."""
    connection = await psycopg.AsyncConnection.connect(place.address)
    for number in numbers:
        async with connection.transaction():
            await connection.execute(TURN)
            person = f"from {number % PEOPLE}"
            await connection.execute(STORE, (number, person, write_moment(NOON)))
    await connection.close()


async def test_receivers_and_who_handles_what_they_store_never_fail_each_other(
    place: Server, database: Database
) -> None:
    all_in = asyncio.gather(
        *(receive(place, range(k * UPDATES, (k + 1) * UPDATES)) for k in range(RECEIVERS))
    )
    handled: list[int] = []
    while len(handled) < RECEIVERS * UPDATES:
        if all_in.done():
            all_in.result()  # raises whatever a receiver has met
        async with database.transaction() as tx:  # StorageTrouble if it can't be serialized
            heads = await inbox.heads(tx, NOON, limit=10)
        for each in heads:
            async with database.transaction() as tx:
                assert await inbox.mark_done(tx, each.update_id, NOON) is not None
            handled.append(each.update_id)
        await asyncio.sleep(0)
    await all_in
    assert sorted(handled) == list(range(RECEIVERS * UPDATES))
    for k in range(RECEIVERS):
        mine = [number for number in handled if number // UPDATES == k]
        for person in range(PEOPLE):
            of_person = [number for number in mine if number % PEOPLE == person]
            assert of_person == sorted(of_person)
