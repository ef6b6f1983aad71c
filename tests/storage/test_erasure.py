"""Erasing knows every table, every letter, and every backup."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from bot.storage.backup import backup, restore
from bot.storage.database import Database, Transaction, open_database
from bot.storage.erased import erase_again, fingerprint_of, remember_erased
from bot.storage.erasure import OF_A_PERSON, OF_AN_ACCOUNT, erase_person
from bot.storage.outbox import Kind, Letter, Priority, queue
from bot.storage.people import Person, person_of_account, remember
from bot.storage.sqlite import connect
from bot.storage.upgrade import known_scripts, upgrade
from tests.fixed_clock import NOON, FixedClock

ANA, INES = 700_000_001, 700_000_002


async def known(tx: Transaction, account: int, name: str) -> Person:
    """Somebody whom the bot knows since noon."""
    return await remember(tx, account, name, "en", NOON)


async def letter(tx: Transaction, letter_id: str, text: str) -> None:
    """A letter to the instructor that is still on its way."""
    sent = Letter(
        id=letter_id,
        chat=INES,
        method="sendMessage",
        arguments={"text": text},
        priority=Priority.DIGEST,
        kind=Kind.DIGEST,
    )
    await queue(tx, sent, NOON)


@pytest.mark.of_files
async def test_every_table_with_a_person_in_it_is_known_to_erasing(database: Database) -> None:
    """Whoever adds such a table adds it to the list."""
    by_person, by_account = set(), set()
    async with database.transaction() as tx:
        for row in await tx.all("SELECT name FROM sqlite_master WHERE type = 'table'"):
            columns = {each["name"] for each in await tx.all(f"PRAGMA table_info({row['name']})")}
            by_person |= {row["name"]} if "person_id" in columns else set()
            by_account |= {row["name"]} if "account" in columns else set()
    assert by_person == set(OF_A_PERSON)
    assert by_account == {*OF_AN_ACCOUNT, "person"}


@pytest.mark.of_files
async def test_every_reference_to_a_person_is_a_column_that_erasing_knows(
    database: Database,
) -> None:
    references = set()
    async with database.transaction() as tx:
        for row in await tx.all("SELECT name FROM sqlite_master WHERE type = 'table'"):
            for each in await tx.all(f"PRAGMA foreign_key_list({row['name']})"):
                if each["table"] == "person":
                    references.add((row["name"], each["from"]))
    known = {"person_id", "acknowledged_by", "cleared_by", "written_by", "about"}
    assert {column for _, column in references} == known


@pytest.mark.parametrize(
    ("text", "stays"),
    [
        ("<b>Ana</b> has joined Harbour Hall.", False),
        ("New, so on the easy side: Ben, Ana", False),
        ("Analysis of the week: Banana", True),
        ("<b>Ben</b> has joined Harbour Hall.", True),
    ],
)
async def test_letters_on_their_way_that_name_them_go(
    database: Database, text: str, stays: bool
) -> None:
    async with database.transaction() as tx:
        ana = await known(tx, ANA, "Ana")
        await letter(tx, "some/letter", text)
        await erase_person(tx, ana, NOON, update_id=1)
        left = await tx.all("SELECT id FROM outbox")
    assert (len(left) == 1) is stays


async def test_letters_that_could_not_be_sent_say_nothing_any_more(database: Database) -> None:
    async with database.transaction() as tx:
        ana = await known(tx, ANA, "Ana")
        await letter(tx, "some/letter", "Ana")
        await tx.execute("UPDATE outbox SET state = 'failed', ended_at = queued_at")
        await erase_person(tx, ana, NOON, update_id=1)
        assert await tx.value("SELECT arguments FROM outbox") == "{}"


async def test_who_was_erased_twice_has_one_row_and_who_was_not_stays(database: Database) -> None:
    async with database.transaction() as tx:
        await known(tx, INES, "Ines")
        for _ in range(2):
            await remember_erased(tx, ANA, NOON)
        await known(tx, ANA, "Ana")
        assert await tx.value("SELECT count(*) FROM erased") == 1
        assert await erase_again(tx, NOON) == 0, "nothing was restored"
        await tx.execute("UPDATE erased SET applied_at = NULL")
        assert await erase_again(tx, NOON) == 1
        assert await person_of_account(tx, ANA) is None
        assert await person_of_account(tx, INES) is not None


async def test_a_backup_from_before_anybody_could_be_erased_takes_the_list_along(
    tmp_path: Path, noon: FixedClock
) -> None:
    old, live = tmp_path / "old", tmp_path / "live"
    async with connect(old) as engine:
        first = tuple(each for each in known_scripts() if each.number <= 2)
        await upgrade(engine, "2026-03-02T12:00:00Z", first)
        await engine.connection.execute(
            "INSERT INTO person (id, account, name, met_at) VALUES (?, ?, ?, ?)",
            ("abcdefgh2345", ANA, "Ana", "2026-03-02T11:00:00Z"),
        )
    async with open_database(live, noon) as database, database.transaction() as tx:
        await remember_erased(tx, ANA, NOON)
    restore(old, live)
    async with open_database(live, noon) as database, database.transaction() as tx:
        assert await erase_again(tx, NOON) == 1
        assert await tx.value("SELECT count(*) FROM person") == 0
    backup(live, tmp_path / "again")
    with closing(sqlite3.connect(tmp_path / "again")) as saved:
        assert saved.execute("SELECT count(*) FROM erased").fetchone() == (1,)


async def test_restoring_over_a_broken_file_still_works(tmp_path: Path) -> None:
    saved, live = tmp_path / "saved", tmp_path / "live"
    async with open_database(saved):
        pass
    live.write_bytes(b"broken" * 1000)
    assert restore(saved, live) is not None
    async with open_database(live) as database, database.transaction() as tx:
        assert await erase_again(tx, NOON) == 0


def test_a_fingerprint_says_nothing_without_its_salt() -> None:
    assert fingerprint_of(7, "a") == fingerprint_of(7, "a")
    assert fingerprint_of(7, "a") != fingerprint_of(7, "b")
    assert fingerprint_of(7, "a") != fingerprint_of(8, "a")
