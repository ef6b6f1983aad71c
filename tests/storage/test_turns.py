"""Turns: a tap waits for one of those who needn't hurry, and they wait for all alike."""

import asyncio

from bot.storage.database import Database
from bot.storage.pulse import note_beat
from tests.fixed_clock import NOON


async def test_who_is_in_a_hurry_waits_for_one_of_the_patient_at_most(database: Database) -> None:
    order: list[str] = []

    async def work(name: str, *, patient: bool) -> None:
        async with database.transaction(patient=patient) as tx:
            order.append(name)
            await note_beat(tx, name, NOON)

    async with database.transaction():
        patient = [asyncio.create_task(work(f"patient {n}", patient=True)) for n in range(4)]
        await asyncio.sleep(0)
        tap = asyncio.create_task(work("tap", patient=False))
        await asyncio.sleep(0)
    await asyncio.gather(*patient, tap)
    assert order == ["patient 0", "tap", "patient 1", "patient 2", "patient 3"]


async def test_who_is_patient_is_not_kept_waiting_by_those_who_come_later(
    database: Database,
) -> None:
    served = asyncio.Event()

    async def hurry() -> None:
        while not served.is_set():
            async with database.transaction() as tx:
                await note_beat(tx, "hurry", NOON)

    hurrying = [asyncio.create_task(hurry()) for _ in range(3)]
    await asyncio.sleep(0)
    async with asyncio.timeout(30), database.transaction(patient=True) as tx:
        await note_beat(tx, "patient", NOON)
        served.set()
    await asyncio.gather(*hurrying)


async def test_a_patient_one_that_is_cancelled_keeps_nobody_from_their_turn(
    database: Database,
) -> None:
    async def wait() -> None:
        async with database.transaction(patient=True):
            pass

    async with database.transaction():
        waiting = [asyncio.create_task(wait()) for _ in range(3)]
        await asyncio.sleep(0)
        for each in waiting[:2]:
            each.cancel()
        await asyncio.sleep(0)
    await asyncio.gather(*waiting, return_exceptions=True)
    assert [each.cancelled() for each in waiting] == [True, True, False]
