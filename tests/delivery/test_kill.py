"""A process that is killed again and again loses no message and handles none twice."""

import asyncio
import random
import sqlite3
import sys
from collections import Counter
from contextlib import closing
from pathlib import Path

import pytest

from tests.delivery.loopback import Loopback
from tests.delivery.test_intake import said

KILLS = 6
MESSAGES_A_RUN = 25


def ids(file: Path, sql: str) -> list[str]:
    with closing(sqlite3.connect(file)) as connection:
        return [str(found) for (found,) in connection.execute(sql)]


@pytest.mark.long
async def test_nothing_is_lost_and_nothing_handled_twice(api: Loopback, tmp_path: Path) -> None:
    luck, file, number = random.Random(20260302), tmp_path / "post", 0
    command = (sys.executable, "-m", "tests.delivery.echo", api.url, str(file))
    for _ in range(KILLS):
        process = await asyncio.create_subprocess_exec(*command)
        for _ in range(MESSAGES_A_RUN):
            number += 1
            api.happens(said(number, person=1 + luck.randrange(9)))
        # killed in the middle of its work, however fast the computer is
        await api.until("sendMessage", len(api.of("sendMessage")) + 1 + luck.randrange(20))
        process.kill()
        await process.wait()
    process = await asyncio.create_subprocess_exec(*command)
    ended = "SELECT id FROM outbox WHERE ended_at IS NOT NULL"
    while len(ids(file, ended)) < number:  # noqa: ASYNC110 - it happens in another process
        await asyncio.sleep(0.05)
    process.kill()
    await process.wait()

    handled = ids(file, "SELECT name FROM pulse WHERE name LIKE '%:%'")
    assert sorted(handled) == sorted(f"{n}:0" for n in range(1, number + 1))
    arrived = Counter(int(arguments["text"]) for arguments in api.of("sendMessage"))
    assert set(range(2, number + 1, 2)) <= set(arrived)  # alerts: every one
    assert all(arrived[n] <= 1 for n in range(1, number + 1, 2))  # confirmations: none twice
