"""Every button of everybody's messages, six deep: `python -m tests.benchmarks.every_button`."""

import argparse
import asyncio
import sys
import time

from tests.exploration.beginning import Entry
from tests.exploration.ends import says_what_is_next
from tests.exploration.entries import ENTRIES
from tests.exploration.exploring import Found
from tests.exploration.founding_entries import FOUNDING
from tests.exploration.leading_entries import LEADING
from tests.exploration.start import begun

DEPTH = 6
MOST = 60_000
"""Presses after which a beginning is left, since several messages at once have no end."""


BY_WHO = {"members": ENTRIES, "instructors": FOUNDING | LEADING}


async def explore_from(entry: Entry, depth: int, most: int) -> Found:
    """One beginning, as deep as it goes."""
    async with begun(entry) as explorer:
        return await explorer.explore(depth, most)


def wrong_with(found: Found) -> list[str]:
    """Whatever somebody should look at, with the way there."""
    ends = [(end, way) for end, way in found.ends.items() if not says_what_is_next(end)]
    trapped = [("no way out", state) for state in found.trapped]
    return [f"{what} by {way}" for what, way in (*found.troubles.items(), *ends, *trapped)]


def main() -> int:
    """Explore what was asked for; the exit code is 1 if anything was wrong."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("name", nargs="*", help="beginnings with this in their name; all of them")
    parser.add_argument("--depth", type=int, default=DEPTH)
    parser.add_argument("--most", type=int, default=MOST, help="presses for each beginning")
    parser.add_argument("--who", choices=BY_WHO, help="whose buttons; everybody's")
    given = parser.parse_args()
    entries = BY_WHO[given.who] if given.who else ENTRIES | FOUNDING | LEADING
    names = [each for each in entries if not given.name or any(n in each for n in given.name)]
    print(f"{'from':52} {'deep':>5} {'states':>7} {'presses':>8} {'CPU s':>6}")
    wrong, presses, states = [], 0, 0
    for name in names:
        began = time.process_time()
        found = asyncio.run(explore_from(entries[name], given.depth, given.most))
        seconds = time.process_time() - began
        deep = "all" if found.exhausted else str(found.depth)
        print(
            f"{name:52} {deep:>5} {len(found.seen):7} {found.presses:8} {seconds:6.0f}", flush=True
        )
        wrong += [f"{name}: {each}" for each in wrong_with(found)]
        presses, states = presses + found.presses, states + len(found.seen)
    print(f"{'together':52} {'':5} {states:7} {presses:8}")
    print("\n".join(wrong) or "nothing wrong")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
