"""Every kind of trouble, met by a class in its best hour: `-m tests.benchmarks.faults`."""

import argparse
import asyncio
import tempfile
import time
from collections import Counter
from pathlib import Path

from tests.campaigns.ordeal import Outcome, open_ordeal, prepare_class, undergo
from tests.campaigns.troubles import KINDS

HEAD = (
    f"{'trouble':<42} {'met':>5} {'well after':>10} {'said':>5} {'lost':>5} {'twice':>5} "
    f"{'limits':>6} {'ended':>5}  doubled"
)


async def campaign(times: int, seed: int, like: str = "") -> list[Outcome]:
    """Each kind so often; what each time came to."""
    found: list[Outcome] = []
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        prepared = await prepare_class(folder)
        for kind in (each for each in KINDS if like in each.name):
            for number in range(times):
                place = folder / f"{len(found)}"
                async with open_ordeal(place, prepared, seed + number) as ordeal:
                    outcome = await undergo(ordeal, kind)
                found.append(outcome)
                print(line(outcome), flush=True)
                if not outcome.clean:
                    print(outcome, _telling(ordeal.supervised.journal.getvalue()), sep="\n")
    return found


def _telling(journal: str) -> str:
    """The lines of which there should be none, and the last ones."""
    lines = journal.splitlines()
    return "\n".join([*(each for each in lines if " passed=" in each), "…", *lines[-5:]])


def line(outcome: Outcome) -> str:
    """One row of the table."""
    truth = outcome.truth
    return (
        f"{outcome.kind:<42} {outcome.met:>5} {outcome.seconds:>8.0f} s {truth.said:>5} "
        f"{truth.lost:>5} {truth.invented:>5} {outcome.violations:>6} "
        f"{outcome.endings.total():>5}  {dict(truth.doubled) or ''}{'' if outcome.clean else ' !'}"
    )


def main() -> None:
    """Print the table; exit code 1 if anything was lost, or anything came twice without need."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--times", type=int, default=1, help="how often each kind is met")
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--only", default="", help="kinds with these words in their names")
    wanted = asked.parse_args()
    began = time.monotonic()
    print(HEAD)
    found = asyncio.run(campaign(wanted.times, wanted.seed, wanted.only))
    doubled: Counter[str] = Counter()
    for each in found:
        doubled += each.truth.doubled
    print(
        f"{len(found)} ordeals in {time.monotonic() - began:.0f} s; answers accepted: "
        f"{sum(each.truth.said for each in found)}; lost: {sum(each.truth.lost for each in found)};"
        f" doubled: {dict(doubled)}; tracebacks: {sum(each.tracebacks for each in found)};"
        f" the token in the journal: {sum(each.leaks for each in found)} times"
    )
    raise SystemExit(0 if all(each.clean for each in found) else 1)


if __name__ == "__main__":
    main()
