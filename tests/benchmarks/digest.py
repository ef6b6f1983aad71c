"""How long a digest takes: forty members, twelve movements, two years of weekly classes.

`python -m tests.benchmarks.digest [--members N] [--classes N]`. A real database is filled through
the bot's own storage; then the digest, its pictures and the page to print are made as in a turn.
"""

import argparse
import asyncio
import tempfile
import time
from collections.abc import Awaitable
from datetime import timedelta
from pathlib import Path
from typing import TypeVar

import numpy as np

from bot.desk.digest_facts import digest_facts, work_out
from bot.desk.digests import messages, send_digest
from bot.desk.handout import handout_of
from bot.desk.overview import draw_overviews
from bot.pictures.render import printed
from bot.storage.database import open_database
from bot.words.message import length
from bot.words.speech import speech_for
from tests.benchmarks.filling import History, fill, held, plan_of

FIRST_MEMBER = 100
T = TypeVar("T")


async def timed(name: str, work: Awaitable[T]) -> T:
    """Do it, and say how long it took."""
    began, spent = time.monotonic(), time.process_time()
    found = await work
    wall, cpu = time.monotonic() - began, time.process_time() - spent
    print(f"  {name:46}{wall:7.2f} s{cpu:9.2f} s CPU", flush=True)
    return found


async def main(members: int, movements: int, classes: int) -> None:
    """Fill, and measure."""
    luck, plan = np.random.default_rng(7), plan_of(movements)
    with tempfile.TemporaryDirectory() as folder:
        async with open_database(Path(folder) / "benchmark.sqlite3") as database:
            async with database.transaction() as tx:
                accounts = tuple(range(FIRST_MEMBER, FIRST_MEMBER + members))
                history = History(leader=1, members=accounts, classes=classes)
                group = await fill(tx, plan, history, luck)
                session = await held(tx, group, history.starts(classes))
            now = session.starts_at - timedelta(hours=1)
            print(f"{members} members, {movements} movements, {classes} classes")
            async with database.transaction() as tx:
                facts = await timed("read what is known", digest_facts(tx, session, now))
            await timed("work it out, after a start", asyncio.to_thread(work_out, facts))
            worked = await timed("work it out once more", asyncio.to_thread(work_out, facts))
            speech = speech_for("en")
            began = time.monotonic()
            told = messages(worked, speech)
            sizes = ", ".join(str(length(each.text)) for each in told)
            print(f"  put into words: {time.monotonic() - began:.3f} s; characters: {sizes}")
            assert worked.digest is not None
            await printed(handout_of(speech, worked, worked.digest))  # the library is loaded once
            await timed("draw the pictures", draw_overviews(worked, (speech,)))
            await timed(
                "draw the page to print", printed(handout_of(speech, worked, worked.digest))
            )
            async with database.transaction() as tx:
                await timed("the whole digest, in its transaction", send_digest(tx, session, now))


def arguments() -> argparse.Namespace:
    """What was asked for."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--members", type=int, default=40)
    parser.add_argument("--movements", type=int, default=12)
    parser.add_argument("--classes", type=int, default=104)
    return parser.parse_args()


if __name__ == "__main__":
    asked_for = arguments()
    asyncio.run(main(asked_for.members, asked_for.movements, asked_for.classes))
