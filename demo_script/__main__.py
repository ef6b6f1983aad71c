"""`python -m demo_script`: six weeks of one class, played by the real bot."""

import argparse
import asyncio
import os
import resource
import shutil
import sys
import time
from zoneinfo import ZoneInfo

from demo_script.story import Script, Tale, play
from demo_script.story.excerpt import true_excerpt
from demo_script.story.figures import table, weekly
from demo_script.story.findings import findings
from demo_script.telling import Telling

NARROWEST, WIDEST = 80, 100
ZONE = ZoneInfo("Europe/Lisbon")
KIB_PER_MIB = 1024
LONGEST = 12  # weeks
INTERRUPTED = 130  # what a shell expects after Ctrl-C


def main(arguments: list[str] | None = None) -> int:
    """Play, and say with the exit code whether the story came true."""
    given = _parser().parse_args(arguments)
    script = Script(weeks=given.weeks, seed=given.seed)
    try:
        if given.excerpt:
            print(asyncio.run(true_excerpt(script)), end="")
            return 0
        return asyncio.run(_play(script, quiet=given.quiet))
    except KeyboardInterrupt:
        return INTERRUPTED
    except BrokenPipeError:  # whoever read along, such as `head`, has seen enough
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 1


async def _play(script: Script, *, quiet: bool) -> int:
    began = time.monotonic()
    telling = Telling(
        out=sys.stdout,
        zone=ZONE,
        width=min(max(shutil.get_terminal_size((88, 24)).columns - 1, NARROWEST), WIDEST),
        colours=sys.stdout.isatty(),
        quiet=quiet,
        progress=sys.stderr if quiet and sys.stderr.isatty() else None,
    )
    async with play(script, telling) as tale:
        came_true = await _sum_up(tale)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / KIB_PER_MIB
    telling.plain()
    telling.plain(f"{time.monotonic() - began:.1f} s, at most {peak:.0f} MiB of memory")
    return 0 if came_true else 1


async def _sum_up(tale: Tale) -> bool:
    """The figures and the findings; whether all of them hold."""
    tale.telling.ended()
    tale.telling.heading("What it came to")
    for line in table(tale, weekly(tale)):
        tale.telling.plain(line)
    tale.telling.heading("Did it come true?")
    found = await findings(tale)
    for each in found:
        tale.telling.finding(each.holds, each.name, each.evidence)
    return all(each.holds for each in found)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="python -m demo_script",
        description="Plays six weeks of one invented class with the real bot, without a network.",
    )
    parser.add_argument("--quiet", action="store_true", help="only the figures and findings")
    parser.add_argument(
        "--seed", type=_seed, metavar="N", default=Script().seed, help="other people, other luck"
    )
    parser.add_argument(
        "--weeks",
        type=int,
        choices=range(1, LONGEST + 1),
        metavar="N",
        default=Script().weeks,
        help="a shorter story",
    )
    parser.add_argument("--excerpt", action="store_true", help="only one short chat, as text")
    return parser


def _seed(text: str) -> int:
    """A whole number, zero or more."""
    number = int(text)
    if number < 0:
        raise ValueError(text)
    return number


if __name__ == "__main__":
    sys.exit(main())
