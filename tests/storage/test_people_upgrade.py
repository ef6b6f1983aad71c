"""A database from before rosters keeps everything, and takes what is new."""

from pathlib import Path

import pytest

from bot.storage import attendance, groups, members, notes, people, roster
from bot.storage.database import open_database
from bot.storage.sqlite import connect
from bot.storage.upgrade import known_scripts, upgrade
from core.roster import Part
from tests.fixed_clock import NOON, FixedClock

BEFORE = 13
AT = "2026-03-02T11:00:00Z"
FILLED = f"""
INSERT INTO person (id, account, name, met_at) VALUES ('ines', 1, 'Ines', '{AT}');
INSERT INTO person (id, account, name, met_at) VALUES ('ana', 2, 'Ana', '{AT}');
INSERT INTO person (id, account, name, met_at) VALUES ('ben', 3, 'Ben', '{AT}');
INSERT INTO training_group (id, name, made_at, plan_id) VALUES ('group', 'Hall', '{AT}', 'plan');
INSERT INTO plan (id, group_id, document, made_at) VALUES ('plan', 'group', 'a plan', '{AT}');
INSERT INTO leading (group_id, person_id, since) VALUES ('group', 'ines', '{AT}');
INSERT INTO membership (group_id, person_id, agreed_at) VALUES ('group', 'ana', '{AT}');
INSERT INTO membership (group_id, person_id, agreed_at, left_at)
    VALUES ('group', 'ben', '{AT}', '{AT}');
INSERT INTO invite (fingerprint, group_id, made_at, expires_at, uses_left)
    VALUES ('f', 'group', '{AT}', '2026-06-01T00:00:00Z', 99);
INSERT INTO session (id, group_id, plan_id, slot, starts_at, ends_at, local_day)
    VALUES ('session', 'group', 'plan', 'slot', '{AT}', '2026-03-02T11:50:00Z', '2026-03-02');
"""  # noqa: S608 - our own


@pytest.fixture
async def old(tmp_path: Path) -> Path:
    """A file that an older program has filled."""
    path = tmp_path / "old.sqlite3"
    async with connect(path) as engine:
        scripts = tuple(each for each in known_scripts() if each.number <= BEFORE)
        await upgrade(engine, AT, scripts)
        await engine.connection.executescript(FILLED)
    return path


async def test_nothing_is_lost_and_everything_new_works(old: Path, noon: FixedClock) -> None:
    async with open_database(old, noon) as database, database.transaction() as tx:
        assert [each.name for each in await members.members(tx, "group")] == ["Ana"]
        entries = {each.person.name: each for each in await roster.roster(tx, "group", NOON)}
        assert entries["Ana"].part is Part.JOINED
        assert entries["Ben"].part is Part.LEFT
        assert not entries["Ben"].was_removed
        assert await members.invited_to(tx, "f", NOON) is not None
        assert await roster.invited(tx, "group", NOON) == ()

        await roster.call_member(tx, "group", "ana", "Annie")
        assert (await people.people_by_id(tx, "group"))["ana"].name == "Annie"
        await notes.put_note(tx, "group", "ana", "A note", by="ines", reason=1, now=NOON)
        await attendance.note_presence(tx, "session", "ana", True, NOON)
        assert await attendance.presence_in(tx, "session") == {"ana": True}
        assert not await groups.remove_leader(tx, "group", "ines"), "nobody else leads"
        assert await tx.all("PRAGMA foreign_key_check") == []


async def test_who_had_left_by_themselves_is_not_brought_back(old: Path, noon: FixedClock) -> None:
    async with open_database(old, noon) as database, database.transaction() as tx:
        assert not await roster.take_back_removal(tx, "group", "ben")
        assert await roster.remove_member(tx, "group", "ana", NOON)
        assert not await roster.remove_member(tx, "group", "ana", NOON)
        assert await roster.take_back_removal(tx, "group", "ana")
        assert [each.name for each in await members.members(tx, "group")] == ["Ana"]
