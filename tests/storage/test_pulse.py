"""What beats often is written once in a while, and whatever the clock does."""

from datetime import timedelta

import pytest

from bot.storage import pulse
from bot.storage.database import Database
from tests.fixed_clock import NOON


@pytest.mark.parametrize(
    ("seconds", "noted"),
    [(0, 0), (29, 0), (59.9, 0), (60, 60), (500, 500), (-1, -1)],
)
async def test_a_beat_is_noted_anew_after_a_while_or_if_the_clock_is_set_back(
    database: Database, seconds: float, noted: int
) -> None:
    async with database.transaction() as tx:
        assert await pulse.last_beat(tx, pulse.POLL) is None
        for later in (0, seconds):
            now = NOON + timedelta(seconds=later)
            await pulse.note_beat_at_times(tx, pulse.POLL, now, timedelta(minutes=1))
        assert await pulse.last_beat(tx, pulse.POLL) == NOON + timedelta(seconds=noted)


async def test_a_poll_is_known_to_the_second(database: Database) -> None:
    async with database.transaction() as tx:
        for seconds in (0.0, 0.4, 0.9, 1.1, 1.2, 5.0):
            now = NOON + timedelta(seconds=seconds)
            await pulse.note_beat_at_times(tx, pulse.POLL, now, pulse.POLL_EVERY)
            last = await pulse.last_beat(tx, pulse.POLL)
            assert last == now.replace(microsecond=0)
