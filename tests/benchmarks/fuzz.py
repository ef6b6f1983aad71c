"""Malformed updates and files, forged and replayed buttons: `-m tests.benchmarks.fuzz`."""

import argparse
import asyncio
import random
import time

from tests.campaigns.fuzz import Findings, open_mischief, read_torn_files

SHOWN = 5


async def campaign(updates: int, files: int, seed: int) -> Findings:
    """So many updates, and so many files of each kind."""
    luck = random.Random(seed)
    async with open_mischief(luck) as mischief:
        await mischief.befall(luck, updates)
        read_torn_files(luck, files, mischief.found)
        return mischief.found


def main() -> None:
    """Print what was found; exit code 1 if it was anything."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--updates", type=int, default=10_000)
    asked.add_argument("--files", type=int, default=10_000, help="of each of the three kinds")
    asked.add_argument("--seed", type=int, default=1)
    wanted = asked.parse_args()
    began = time.monotonic()
    found = asyncio.run(campaign(wanted.updates, wanted.files, wanted.seed))
    print(f"{time.monotonic() - began:.0f} s, seed {wanted.seed}: {dict(found.tried)}")
    print(f"unreadable, and put aside: {found.unreadable}")
    for name in ("tracebacks", "leaks", "changes"):
        each = getattr(found, name)
        print(f"{name}: {len(each)}", *each[:SHOWN], sep="\n  ")
    raise SystemExit(0 if found.clean else 1)


if __name__ == "__main__":
    main()
