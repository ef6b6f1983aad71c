"""A large export: fifty thousand rows, told as they are gathered, in little memory."""

import json
import tracemalloc
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from bot.desk.group_export import MOST_BYTES, send_group_export
from bot.desk.group_files import Parts
from bot.storage.database import Database, Transaction
from bot.storage.exports import ask_export
from bot.storage.moments import write_moment
from tests.fixed_clock import NOON
from tests.journeys.plans import plan_text

MEMBERS, CLASSES, MOVEMENTS = 40, 105, 12
ROWS = MEMBERS * CLASSES * MOVEMENTS
MOST_EXTRA = 40 * 1024 * 1024
"""Bytes in use at once: far below what all rows take as values, about one file's size."""
DOSE = ["feet stacked", 30, None, 2]
LADDER = """
[[movement]]
name = "Hold {at}"
measure = "hold"
standard = "feet stacked"
plan = {{ variation = "feet stacked", amount = 30, sets = 2 }}
range = [10, 60]
step = 5
[[movement.variation]]
name = "feet stacked"
demand = 1.0
"""


@pytest.fixture
async def years(database: Database) -> Database:
    """Two years of a large group, every class answered by everybody."""
    async with database.transaction() as tx:
        await _fill(tx)
    return database


async def _fill(tx: Transaction) -> None:
    plan = plan_text(movements="".join(LADDER.format(at=at) for at in range(MOVEMENTS)))
    now = write_moment(NOON)
    await tx.execute(
        "INSERT INTO training_group (id, name, made_at, plan_id) VALUES ('g', 'Large', :now, 'p')",
        now=now,
    )
    await tx.execute(
        "INSERT INTO plan (id, group_id, document, made_at) VALUES ('p', 'g', :plan, :now)",
        plan=plan,
        now=now,
    )
    for at in range(MEMBERS):
        await tx.execute(
            """INSERT INTO person (id, account, name, language, met_at)
            VALUES (:id, :account, :name, 'en', :now)""",
            id=f"m{at}",
            account=1000 + at,
            name="The same name",
            now=now,
        )
        await tx.execute(
            "INSERT INTO membership (group_id, person_id, agreed_at) VALUES ('g', :id, :now)",
            id=f"m{at}",
            now=now,
        )
    await tx.execute(
        "INSERT INTO leading (group_id, person_id, since) VALUES ('g', 'm0', :now)", now=now
    )
    for week in range(CLASSES):
        await _one_class(tx, f"s{week}", NOON - timedelta(weeks=CLASSES - week))


async def _one_class(tx: Transaction, session: str, at: datetime) -> None:
    told = json.dumps([[f"Hold {place}", *DOSE] for place in range(MOVEMENTS)])
    moment = write_moment(at)
    await tx.execute(
        """INSERT INTO session (id, group_id, plan_id, slot, starts_at, ends_at, local_day)
        VALUES (:id, 'g', 'p', :id, :at, :ends, :day)""",
        id=session,
        at=moment,
        ends=write_moment(at + timedelta(minutes=50)),
        day=at.date().isoformat(),
    )
    await tx.execute(
        """INSERT INTO prompt (id, session_id, person_id, told, asked, showing, letter, opened_at)
        SELECT :session || person.id, :session, person.id, :told, '[]', NULL, '-', :at
        FROM person""",
        session=session,
        told=told,
        at=moment,
    )
    await tx.execute(
        """INSERT INTO answer (prompt_id, question, number, said_at, said_in)
        SELECT :session || person.id, 'c', 7, :at, 1 FROM person""",
        session=session,
        at=moment,
    )


async def _documents(database: Database) -> dict[str, bytes]:
    async with database.transaction() as tx:
        rows = await tx.all("SELECT file_name, file FROM outbox WHERE file IS NOT NULL")
        return {row["file_name"]: row["file"] for row in rows}


@pytest.mark.long
async def test_fifty_thousand_rows_cost_little_memory_and_say_how_far_they_are(
    years: Database,
) -> None:
    async with years.transaction() as tx:
        export = await ask_export(tx, "g", "m0", "test", NOON)
    tracemalloc.start()
    await send_group_export(years, export, NOON)
    _, most = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    sent = await _documents(years)
    table = sent["answers.csv"].decode().splitlines()
    assert len(table) == 1 + MEMBERS + ROWS + MEMBERS * CLASSES
    assert len(json.loads(sent["group.json"])["classes"]) == CLASSES
    assert max(map(len, sent.values())) <= MOST_BYTES + 1024
    assert most < MOST_EXTRA, most
    async with years.transaction() as tx:
        said = await tx.all("SELECT id, arguments FROM outbox WHERE id LIKE '%progress%'")
    told = [json.loads(row["arguments"])["text"] for row in said]
    assert "0 %" in told[0]
    assert "are on their way" in told[-1]
    assert len(told) >= 4


def test_what_is_too_large_for_one_file_comes_in_parts_that_stand_alone() -> None:
    parts = Parts('{"all":[', "]}", between=",", most=60)
    for at in range(30):
        parts.add(f'"{at:02}"')
    read = [json.loads(each)["all"] for each in parts.finished()]
    assert len(read) > 2
    assert [each for part in read for each in part] == [f"{at:02}" for at in range(30)]


def test_nothing_at_all_is_one_part_too(tmp_path: Path) -> None:
    parts = Parts("head", "tail", most=10)
    assert list(parts.finished()) == [b"headtail"]
    assert parts.count == 1
