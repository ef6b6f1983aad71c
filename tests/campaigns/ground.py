"""What a campaign stands on: groups whose classes end one after the other, in real time."""

import sqlite3
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

from bot.house import open_house
from bot.settings import Settings
from demo_script.stand_in import Person, StandIn
from demo_script.stand_in.limits import Limits
from demo_script.theatre import DEMO_PACE, Theatre
from tests.campaigns.process import TwoClocks
from tests.journeys.evening import Evening
from tests.journeys.plans import plan_text

CLASS_MINUTES = 5
PATIENCE_SECONDS = 40.0
WIDE = Limits(private_burst=1000, private_per_second=1000, messages_per_second=1000)
"""Pacing is another test's matter: two runs within a second don't know of each other's letters."""

WAITING = """SELECT (SELECT count(*) FROM inbox WHERE done_at IS NULL AND parked_at IS NULL)
+ (SELECT count(*) FROM outbox WHERE state IN ('queued', 'sending'))"""


async def prepare(
    settings: Settings,
    api: StandIn,
    clocks: TwoClocks,
    *,
    members: int,
    groups: int = 1,
    apart: timedelta = timedelta(0),
) -> list[list[Person]]:
    """The members of each group; the first group's class is over when the clock turns real.

    Each next group's class is over so much later. Their zone is chosen so that it is day there,
    whenever this runs.
    """
    offset = 12 - datetime.now(UTC).hour
    zone = f"Etc/GMT{-offset:+d}" if offset else "Etc/GMT"
    first = (clocks.now() + timedelta(hours=offset, minutes=4)).replace(microsecond=0, tzinfo=None)
    async with open_house(settings, clock=clocks.story, pace=DEMO_PACE) as house:
        evening = Evening(
            theatre=Theatre(api=api, house=house, clock=clocks.story),
            file=settings.database,
            instructor=api.person("Ines"),
        )
        await evening.claim()
        joined = []
        for number in range(groups):
            plan = plan_text(
                f"Class {number}",
                starts=(first + number * apart).isoformat(),
                rrule="FREQ=WEEKLY",
                timezone=zone,
                minutes=CLASS_MINUTES,
                more="prompt_after = 0\ndigest_before = 1",
            )
            await evening.upload(plan)
            names = (f"Member {number}.{each}" for each in range(members))
            joined.append(await evening.join(*names))
        return joined


async def until_it_works(api: StandIn) -> None:
    """Wait until the new process has said hello and waits for updates, or takes some."""
    place = len(api.requests)

    def works() -> bool:
        new = [request.method for request in api.requests[place:]]
        return "getUpdates" in new or (bool(new) and api.world.updates.has_poller)

    await api.until(works, PATIENCE_SECONDS)


async def until_quiet(api: StandIn, file: Path) -> None:
    """Wait until everything that came in is handled, and everything is sent."""
    await api.until(lambda: api.pending == 0 and waiting(file) == 0, PATIENCE_SECONDS)


def waiting(file: Path) -> int:
    """How many updates and letters the bot still has to do something about."""
    with closing(sqlite3.connect(file)) as connection:
        found: int = connection.execute(WAITING).fetchone()[0]
    return found
