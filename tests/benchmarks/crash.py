"""The real process, killed hundreds of times: `python -m tests.benchmarks.crash`."""

import argparse
import asyncio
import random
import tempfile
import time
from datetime import UTC, datetime, timedelta
from pathlib import Path

from bot.place import Server
from demo_script.stand_in import Trouble
from demo_script.stand_in.faults import Fault, cut_after, slow
from tests.campaigns.ground import CLASS_MINUTES, Ground, open_ground
from tests.campaigns.room import Room
from tests.campaigns.truth import Truth, compare
from tests.conftest import ENGINES, SQLITE
from tests.looking import rows
from tests.server import database_of

GROUPS, MEMBERS = 12, 3
AT_ONCE = 3
"""Classes that end before the first kill, so that enough people have something to say."""
SECONDS_PER_KILL = 3.5  # about; so that classes keep ending until the last kill
A_LONG_EVENING = 900.0  # seconds: on a busy computer much is left to do when the kills are over
AFTER_A_PROMPT = 75.0  # seconds after which a prompt in doubt has been sent again
LONGEST_PAUSE = 0.5  # seconds between two things said: else far more comes in than one run handles
HANDLED = "SELECT count(*) FROM inbox WHERE done_at IS NOT NULL AND problem IS NULL"


async def campaign(
    folder: Path, kills: int, seed: int, server: Server | None = None
) -> tuple[Truth, int]:
    """Kill so often, at random moments; what was found, and how much was handled amid the kills."""
    luck = random.Random(seed)
    apart = timedelta(seconds=max(10, int(kills * SECONDS_PER_KILL / GROUPS)))
    ended = timedelta(minutes=4 + CLASS_MINUTES, seconds=10)  # so that the first has just ended
    async with open_ground(
        folder,
        members=MEMBERS,
        groups=GROUPS,
        apart=apart,
        before=ended + AT_ONCE * apart,
        server=server,
    ) as ground:
        room = Room(ground.members, luck, LONGEST_PAUSE)
        ground.api.faults.append(_bad_line(luck))
        last_class = datetime.now(UTC) + (GROUPS - AT_ONCE) * apart
        before = _handled(ground)
        for number in range(kills):
            await ground.live_and_be_killed(
                room, luck, number, starting=(0.3, 2.5), working=(0.05, 1.0)
            )
        amid = _handled(ground) - before
        await ground.run.start()
        left = (last_class - datetime.now(UTC)).total_seconds()
        await asyncio.sleep(max(left, 0) + AFTER_A_PROMPT)
        await ground.until_quiet(A_LONG_EVENING)
        code = await ground.run.end()
        assert code == 0, f"it ended with {code}"
        found = compare(ground, room)
    return found, amid


def _handled(ground: Ground) -> int:
    ((count,),) = rows(ground.place, HANDLED)
    return int(str(count))


def _bad_line(luck: random.Random) -> Fault:
    """Some answers come late, so that kills meet sends halfway; a few never come."""

    def fault(method: str, _parameters: object) -> Trouble | None:
        if method.lower() == "getupdates":
            return None
        chance = luck.random()
        if chance < 0.02:
            return cut_after()
        return slow(luck.uniform(0.0, 0.3)) if chance < 0.3 else None

    return fault


def main() -> None:
    """Print what was found; exit code 1 if anything was lost."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--kills", type=int, default=200)
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--engine", choices=ENGINES, default=SQLITE)
    wanted = asked.parse_args()
    with tempfile.TemporaryDirectory() as folder, database_of(wanted.engine) as server:
        began = time.monotonic()
        found, amid = asyncio.run(campaign(Path(folder), wanted.kills, wanted.seed, server))
        seconds = time.monotonic() - began
        tracebacks = (Path(folder) / "journal").read_text().count("Traceback")
    print(
        f"{wanted.kills} kills in {seconds:.0f} s, seed {wanted.seed}, {wanted.engine}\n"
        f"updates handled amid the kills: {amid}\n"
        f"answers accepted: {found.said}; lost: {found.lost}; invented: {found.invented}\n"
        f"members never asked: {found.missing_prompts}; "
        f"digests missing: {found.missing_digests} of {found.digests}; "
        f"updates given up: {found.parked}, put away as too many: {found.put_away}\n"
        f"faults of the database: {found.corrupt}; tracebacks in the journal: {tracebacks}\n"
        f"doubled messages: {dict(found.doubled)}; sends in doubt: {dict(found.in_doubt)}"
    )
    if not found.clean:
        print("said more than once:", *found.twice, sep="\n  ")
    raise SystemExit(0 if found.clean and not tracebacks else 1)


if __name__ == "__main__":
    main()
