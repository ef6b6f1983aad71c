"""A clock that is set back makes nobody wait for hours."""

from datetime import timedelta

from bot.storage import inbox
from bot.storage.database import Database
from bot.storage.inbox import Incoming
from bot.storage.outbox import Kind, Letter, Priority, queue
from bot.storage.outcomes import again_at
from bot.storage.outgoing import claim, heads
from bot.storage.reach import pause
from bot.storage.rests import shorten_rests
from tests.fixed_clock import NOON

AHEAD = NOON + timedelta(hours=5)


async def test_what_rested_by_the_old_clock_goes_on_by_the_new_one(database: Database) -> None:
    letter = Letter(
        id="a",
        chat=1,
        method="sendMessage",
        arguments={"text": "7"},
        priority=Priority.PROMPT,
        kind=Kind.PROMPT,
    )
    async with database.transaction() as tx:
        await inbox.receive(tx, [Incoming(update_id=1, person_key="from 1", document="{}")], AHEAD)
        await inbox.count_try(tx, 1, AHEAD, timedelta(seconds=8))
        await queue(tx, letter, AHEAD)
        await claim(tx, "a", AHEAD)
        await again_at(tx, "a", AHEAD + timedelta(seconds=8))
        await pause(tx, 1, AHEAD + timedelta(seconds=8), AHEAD)
        assert await inbox.heads(tx, NOON, 9) == ()

        await shorten_rests(tx, NOON)
        assert len(await inbox.heads(tx, NOON, 9)) == 1
        assert await heads(tx, NOON) == (), "whoever asked us to wait is asked again in a minute"
        assert len(await heads(tx, NOON + timedelta(seconds=61))) == 1


async def test_short_rests_stay(database: Database) -> None:
    async with database.transaction() as tx:
        await inbox.receive(tx, [Incoming(update_id=1, person_key="from 1", document="{}")], NOON)
        await inbox.count_try(tx, 1, NOON, timedelta(seconds=8))
        await shorten_rests(tx, NOON)
        assert await inbox.heads(tx, NOON, 9) == ()
