"""The front door: run the bot, or check, suggest, back up and restore without it."""

import argparse
import asyncio
import contextlib
import gc
import logging
import signal
import sys
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from datetime import date
from importlib import import_module
from pathlib import Path
from typing import NoReturn

from bot.clock import SystemClock
from bot.errors import BadInput, Broken, ClassEffortError, Stopped
from bot.garbage import let_go_of_documentation, only_look_at_what_is_new
from bot.settings import Settings, read_settings
from bot.words import console

# What only some commands need is imported in them: a probe that a supervisor runs twice a minute
# should not wait for the chat library, nor for what only suggestions need.

LOG = logging.getLogger(__name__)

PROGRAM = "class-effort-bot"
OK, FAILED, BAD_INPUT = 0, 1, 2
AMISS = 2
FORMATS = ("table", "json", "csv")
MOST_ARENAS = -8
"""`M_ARENA_MAX` of `malloc.h`."""
LONGEST_TURN_SECONDS = 0.0005
"""So long a thread that computes keeps the others from it: an answer to a tap waits for its turn
some forty times, once for each thing that it asks the database or the network for."""


class _Parser(argparse.ArgumentParser):
    """Tells what is wrong in one line, like every other refusal here."""

    def error(self, message: str) -> NoReturn:
        """Leave with the code for bad input."""
        self.exit(BAD_INPUT, f"{PROGRAM}: {message}; see {PROGRAM} --help\n")


def main(arguments: Sequence[str] | None = None) -> int:
    """Do what the command line says; returns the exit code."""
    chosen = _parser().parse_args(arguments)
    run: Callable[[argparse.Namespace], int] = chosen.run
    try:
        return run(chosen)
    except BadInput as refused:
        _complain(str(refused))
        return BAD_INPUT
    except Broken as broken:
        _complain(console.broken(broken))
        return FAILED


def _parser() -> argparse.ArgumentParser:
    parser = _Parser(prog=PROGRAM, description=console.DESCRIPTION)
    commands = parser.add_subparsers(required=True, metavar="COMMAND", parser_class=_Parser)

    run = commands.add_parser("run", help="run the bot until it is stopped")
    run.set_defaults(run=_run)

    check = commands.add_parser("check", help="check that all is well, or check a plan file")
    what = check.add_mutually_exclusive_group()
    what.add_argument("plan", metavar="PLAN.toml", type=Path, nargs="?")
    what.add_argument(
        "--alive", action="store_true", help="only whether the bot runs and does its work"
    )
    check.set_defaults(run=_check)

    saving = commands.add_parser("backup", help="copy the database, also while the bot runs")
    saving.add_argument("path", metavar="PATH", type=Path)
    saving.set_defaults(run=_backup)

    restoring = commands.add_parser("restore", help="put a backup in the database's place")
    restoring.add_argument("path", metavar="PATH", type=Path)
    restoring.set_defaults(run=_restore)

    offline = commands.add_parser("suggest", help="suggestions from a plan and a reports file")
    offline.add_argument("--plan", metavar="PLAN.toml", type=Path, required=True)
    offline.add_argument("--reports", metavar="REPORTS.csv", type=Path, required=True)
    offline.add_argument("--date", metavar="YYYY-MM-DD", type=_day, help="day of the next class")
    offline.add_argument("--ask", metavar="N", type=_count, default=2, help="0 to 3, default 2")
    offline.add_argument("--format", choices=FORMATS, default=FORMATS[0])
    offline.set_defaults(run=_suggest)
    return parser


def _run(_: argparse.Namespace) -> int:
    settings = read_settings()
    _share_memory()
    _take_short_turns()
    try:
        asyncio.run(_serve(settings))
    except ClassEffortError:
        raise
    except Exception:
        # Told by the journal, which leaves the token out; the interpreter would print it.
        LOG.exception("something broke that nobody thought of")
        return FAILED
    return OK


def _share_memory() -> None:
    """Let all threads take memory from one place, where the system would give each its own.

    What a thread has left free is then of use to the others. Only one of them computes at a time.
    """
    if sys.platform == "linux":
        import ctypes

        with contextlib.suppress(OSError, AttributeError):  # there are other C libraries than GNU's
            ctypes.CDLL(None).mallopt(MOST_ARENAS, 1)


def _take_short_turns() -> None:
    """Let whoever computes give way soon to whoever answers taps."""
    sys.setswitchinterval(LONGEST_TURN_SECONDS)


async def _serve(settings: Settings) -> None:
    # Imported here: the chat library takes a moment that the other commands needn't wait for.
    gc.disable()  # nothing of what imports make is garbage, and looking takes a tenth of the start
    with ThreadPoolExecutor(1) as aside:
        # it reads the system's certificates meanwhile, which keeps no other thread from importing
        aside.submit(import_module, "aiohttp")
        from bot.house import open_house
        from bot.logs import open_log

    let_go_of_documentation()
    gc.freeze()
    only_look_at_what_is_new()
    gc.enable()

    open_log(settings.token.text)
    stop = asyncio.Event()
    for ending in (signal.SIGINT, signal.SIGTERM):
        asyncio.get_running_loop().add_signal_handler(ending, stop.set)
    with contextlib.suppress(Stopped):
        async with open_house(settings, announce=_print, stop=stop) as house:
            await house.until(stop)


def _check(chosen: argparse.Namespace) -> int:
    if chosen.plan is not None:
        from bot.offline import check_plan

        _print(check_plan(chosen.plan))
        return OK
    return _check_alive() if chosen.alive else _check_all()


def _check_all() -> int:
    from bot.health import examine

    findings = asyncio.run(examine(read_settings(token_needed=False), SystemClock().now))
    _print("\n".join(map(str, findings)))
    return OK if all(each.fine for each in findings) else AMISS


def _check_alive() -> int:
    from bot.alive import is_alive
    from bot.storage.health import signs_of_life

    file = signs_of_life(read_settings(token_needed=False).database)
    alive, told = is_alive(file, SystemClock().now())
    _print(told)
    return OK if alive else AMISS


def _backup(chosen: argparse.Namespace) -> int:
    from bot.storage.backup import backup

    database = _file_to("backup")
    backup(database, chosen.path, now=SystemClock().now())
    _print(console.backed_up(database, chosen.path))
    return OK


def _restore(chosen: argparse.Namespace) -> int:
    from bot.storage.backup import restore

    database = _file_to("restore")
    kept = restore(chosen.path, database)
    asyncio.run(_erase_again(database))
    _print(console.restored(chosen.path, database, kept))
    return OK


def _file_to(command: str) -> Path:
    """The database file; BadInput where there is a server, which has its own commands for it."""
    place = read_settings(token_needed=False).database
    if not isinstance(place, Path):
        raise BadInput((console.only_for_files(command),))
    return place


async def _erase_again(database: Path) -> None:
    """Whoever was erased since the backup must not come back with it."""
    from bot.storage.database import open_database
    from bot.storage.erased import erase_again
    from bot.storage.lock import hold_lock

    now = SystemClock().now()
    with hold_lock(database):
        async with open_database(database) as opened:
            async with opened.transaction() as tx:
                await erase_again(tx, now)
            await opened.sweep()


def _suggest(chosen: argparse.Namespace) -> int:
    from bot.offline import Format, suggest

    _print(
        suggest(chosen.plan, chosen.reports, chosen.date, chosen.ask, Format(chosen.format)),
        end="",
    )
    return OK


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"{text!r} is not a day like 2026-09-03") from None


def _count(text: str) -> int:
    if text not in ("0", "1", "2", "3"):
        raise argparse.ArgumentTypeError(f"{text!r} is not a number from 0 to 3")
    return int(text)


def _print(text: str, end: str = "\n") -> None:
    sys.stdout.write(text if text.endswith("\n") else text + (end or "\n"))
    sys.stdout.flush()


def _complain(text: str) -> None:
    sys.stderr.write(f"{PROGRAM}: {text}\n")


if __name__ == "__main__":
    sys.exit(main())
