"""`python -m demo_script`: six weeks of a class, or one busy day, played by the real bot."""

import argparse
import asyncio
import os
import resource
import shutil
import sys
import time
from typing import NoReturn
from zoneinfo import ZoneInfo

from demo_script.busy_day import DayScript, play_day
from demo_script.busy_day.findings import findings_of_day
from demo_script.busy_day.play import ZONE as DAY_ZONE
from demo_script.story import Script, play
from demo_script.story.excerpt import true_excerpt
from demo_script.story.figures import table, weekly
from demo_script.story.finding import Finding
from demo_script.story.findings import findings
from demo_script.telling import Telling

NARROWEST, WIDEST = 80, 100
ZONE = ZoneInfo("Europe/Lisbon")
SIX_WEEKS, BUSY_DAY = "six-weeks", "busy-day"
KIB_PER_MIB = 1024
LONGEST = 12  # weeks
BAD_INPUT = 2
INTERRUPTED = 130  # what a shell expects after Ctrl-C


class _Parser(argparse.ArgumentParser):
    """Tells what is wrong in one line."""

    def error(self, message: str) -> NoReturn:
        """Leave with the code for bad input."""
        self.exit(BAD_INPUT, f"{self.prog}: {message}; see {self.prog} --help\n")


def main(arguments: list[str] | None = None) -> int:
    """Play, and say with the exit code whether the story came true."""
    parser = _parser()
    given = parser.parse_args(arguments)
    if given.story == BUSY_DAY and (given.weeks is not None or given.excerpt):
        parser.error(f"--weeks and --excerpt are for --story {SIX_WEEKS}")
    script = Script(weeks=given.weeks or Script().weeks, seed=given.seed)
    try:
        if given.excerpt:
            print(asyncio.run(true_excerpt(script)), end="")
            return 0
        if given.story == BUSY_DAY:
            return asyncio.run(_play_day(DayScript(seed=given.seed), quiet=given.quiet))
        return asyncio.run(_play(script, quiet=given.quiet))
    except KeyboardInterrupt:
        return INTERRUPTED
    except BrokenPipeError:  # whoever read along, such as `head`, has seen enough
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 1


async def _play(script: Script, *, quiet: bool) -> int:
    began = time.monotonic()
    telling = _telling(ZONE, quiet=quiet)
    async with play(script, telling) as tale:
        telling.ended()
        telling.heading("What it came to")
        for line in table(tale, weekly(tale)):
            telling.plain(line)
        return _sum_up(telling, await findings(tale), began)


async def _play_day(script: DayScript, *, quiet: bool) -> int:
    began = time.monotonic()
    telling = _telling(DAY_ZONE, quiet=quiet)
    async with play_day(script, telling) as day:
        telling.ended()
        return _sum_up(telling, await findings_of_day(day), began)


def _telling(zone: ZoneInfo, *, quiet: bool) -> Telling:
    return Telling(
        out=sys.stdout,
        zone=zone,
        width=min(max(shutil.get_terminal_size((88, 24)).columns - 1, NARROWEST), WIDEST),
        colours=sys.stdout.isatty(),
        quiet=quiet,
        progress=sys.stderr if quiet and sys.stderr.isatty() else None,
    )


def _sum_up(telling: Telling, found: tuple[Finding, ...], began: float) -> int:
    """The findings, and what it took; the exit code says whether all of them hold."""
    telling.heading("Did it come true?")
    for each in found:
        telling.finding(each.holds, each.name, each.evidence)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / KIB_PER_MIB
    telling.plain()
    telling.plain(f"{time.monotonic() - began:.1f} s, at most {peak:.0f} MiB of memory")
    return 0 if all(each.holds for each in found) else 1


def _parser() -> argparse.ArgumentParser:
    parser = _Parser(
        prog="python -m demo_script",
        description="Plays an invented story with the real bot, without a network.",
    )
    parser.add_argument(
        "--story",
        choices=(SIX_WEEKS, BUSY_DAY),
        default=SIX_WEEKS,
        help=f"six weeks of one class, or one day of three (default: {SIX_WEEKS})",
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
        help="a shorter or longer story of one class",
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
