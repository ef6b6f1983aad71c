"""My data: all of it as files, or all of it gone, also from backups."""

import csv
import gc
import io
import json
import sqlite3
from datetime import timedelta
from pathlib import Path

import pytest

from bot.buttons.personal import DataButton, Setting, SettingButton
from bot.storage.backup import backup, restore
from bot.storage.database import open_database
from bot.storage.erased import erase_again
from core.capacity import Belief
from core.reports import Bout, SessionRating
from demo_script.stand_in import Message, Person
from tests.journeys.evening import PROMPTED, STARTS, Evening, agree, data_of

NAME = "Zebulon <b>Quark</b>"
REFUSALS = ("This button doesn't work for you.", "This button is no longer in use.")
TRACES = ("Zebulon", "Quark")


async def a_history(evening: Evening) -> Person:
    """A member of a rare name who has done everything that leaves something behind."""
    (zeb,) = await evening.join(NAME)
    await evening.say(zeb, "/settings")
    person = str(evening.rows("SELECT id FROM person WHERE account = ?", zeb.person_id)[0][0])
    await evening.press(zeb, SettingButton(person, Setting.SCALE).write())
    await evening.press(zeb, SettingButton(person, Setting.SCALE, "6-20").write())
    await evening.leap(STARTS - timedelta(minutes=60))
    await evening.leap(PROMPTED)
    await evening.say(zeb, "19")
    await evening.answer_all(zeb, h="pain")
    await evening.say(zeb, "nonsense")
    await evening.say(zeb, "/hurt")
    await evening.press(zeb, "A warning sign")
    await evening.say(zeb, "/pause")
    await evening.say(zeb, "/variant")
    return zeb


async def erase(evening: Evening, person: Person) -> Message:
    """Ask for it, and say yes."""
    await evening.say(person, "/mydata")
    await evening.press(person, data_of(person.last_message, DataButton, choice="erase"))
    await evening.press(person, data_of(person.last_message, DataButton, choice="yes"))
    return person.last_message


def bytes_of(file: Path) -> bytes:
    """The database and its log, as they lie on the disk."""
    both = (file, file.with_name(file.name + "-wal"))
    return b"".join(each.read_bytes() for each in both if each.exists())


def traces(content: bytes, account: int, *ids: str) -> list[str]:
    """What of a person is still in there, in any form in which it could be stored."""
    forms = {each: each.encode() for each in (*TRACES, *ids, str(account))}
    forms["the account as a number"] = account.to_bytes(4, "big")
    return [name for name, form in forms.items() if form in content]


async def test_everything_about_me_and_nothing_about_others_comes_as_two_files(
    evening: Evening,
) -> None:
    zeb = await a_history(evening)
    message = await evening.say(zeb, "/mydata")
    await evening.press(zeb, data_of(message, DataButton, choice="export"), message)
    whole, table = (each for each in zeb.messages if each.document is not None)
    assert (whole.attachment and whole.attachment.name) == "my-data.json"
    assert not whole.protected
    data = json.loads(whole.document or b"")
    assert set(data) - {"about"} == set(data["about"]) - {"moments"}, "every part is explained"
    assert data["person"]["name"] == NAME
    assert data["person"]["account"] == zeb.person_id
    assert data["settings"]["scale"] == "6-20"
    answers = data["classes"][0]["answers"]
    assert answers[0]["number_from_6_to_20"] == 19
    assert {each["kind"] for each in data["symptoms"]} == {"pain", "warning"}
    assert len(data["alerts"]) >= 2
    rows = list(csv.DictReader(io.StringIO((table.document or b"").decode("utf-8-sig"))))
    assert len(rows) == len(answers)
    assert {row["rating_0_to_10"] for row in rows if row["question"] == "session"} == {"9"}
    for other in ("Ana", "Ben", "Cleo", "Ines"):
        assert other not in (whole.document or b"").decode()


@pytest.mark.of_files
async def test_erasing_leaves_no_trace_in_the_file_and_gives_a_receipt(evening: Evening) -> None:
    zeb = await a_history(evening)
    (person,) = (
        str(row[0])
        for row in evening.rows("SELECT id FROM person WHERE account = ?", zeb.person_id)
    )
    (prompt,) = (
        str(row[0]) for row in evening.rows("SELECT id FROM prompt WHERE person_id = ?", person)
    )
    assert traces(bytes_of(evening.file), zeb.person_id, person, prompt) != []
    said = await erase(evening, zeb)
    assert "Done." in said.text
    assert "your place in 1 group" in said.text
    assert "nothing about you" in said.text
    await evening.theatre.house.turn()
    assert traces(bytes_of(evening.file), zeb.person_id, person, prompt) == []
    assert evening.rows("SELECT count(*) FROM erased WHERE swept_at IS NOT NULL") == [(1,)]
    assert evening.rows("PRAGMA foreign_key_check") == []
    assert evening.rows("SELECT count(*) FROM person") == [(4,)], "everybody else is there"
    # from now on a stranger: old buttons do nothing, and what they say is not theirs
    for message in zeb.messages:
        for row in message.buttons:
            for each in row:
                press = zeb.press(message, each.data or "")
                await evening.settle()
                assert press.answer is not None
    assert "invited" in (await evening.say(zeb, "7")).text
    assert evening.rows("SELECT count(*) FROM person") == [(4,)]


def known_of(person: str) -> list[object]:
    """What is held in memory of somebody's strengths, and of what they said."""
    kinds = (Belief, SessionRating, Bout)
    held = [each for each in gc.get_objects() if isinstance(each, kinds)]
    return [
        each
        for each in held
        if (person in each.members if isinstance(each, Belief) else person == each.member)
    ]


async def test_erasing_leaves_nothing_in_memory(evening: Evening) -> None:
    zeb = await a_history(evening)
    rows = evening.rows("SELECT id FROM person WHERE account = ?", zeb.person_id)
    person = str(rows[0][0])
    assert {type(each) for each in known_of(person)} == {Belief, SessionRating, Bout}
    await erase(evening, zeb)
    assert known_of(person) == []


async def test_whoever_blocks_the_bot_after_erasing_is_not_remembered_for_it(
    evening: Evening,
) -> None:
    zeb = await a_history(evening)
    await erase(evening, zeb)
    zeb.block()
    await evening.settle()
    assert evening.rows("SELECT * FROM unreachable") == []
    assert "can't reach" not in evening.instructor.last_message.text


@pytest.mark.of_files
async def test_an_old_backup_does_not_bring_anybody_back(evening: Evening, tmp_path: Path) -> None:
    zeb = await a_history(evening)
    saved = tmp_path / "saved"
    backup(evening.file, saved)
    await erase(evening, zeb)
    (tmp_path / "elsewhere").mkdir()
    live = tmp_path / "elsewhere" / "live.sqlite3"
    backup(evening.file, live)  # as if the bot had been stopped
    restore(saved, live)
    await _erase_again(live)
    assert traces(bytes_of(live), zeb.person_id) == []
    with sqlite3.connect(live) as connection:
        assert connection.execute("SELECT count(*) FROM person").fetchone() == (4,)
        assert connection.execute("PRAGMA foreign_key_check").fetchall() == []


@pytest.mark.of_files
async def test_who_joins_anew_is_in_later_backups(evening: Evening, tmp_path: Path) -> None:
    zeb = await a_history(evening)
    await erase(evening, zeb)
    await evening.leap(evening.now + timedelta(hours=1))
    zeb.open_link(evening.link)
    await evening.settle()
    agree(zeb)
    await evening.settle()
    saved, live = tmp_path / "saved", tmp_path / "live"
    backup(evening.file, saved)
    backup(evening.file, live)
    restore(saved, live)
    await _erase_again(live)
    with sqlite3.connect(live) as connection:
        assert connection.execute("SELECT count(*) FROM person").fetchone() == (5,)


async def test_who_leads_a_group_is_asked_to_hand_it_over_first(evening: Evening) -> None:
    ines = evening.instructor
    message = await evening.say(ines, "/mydata")
    await evening.press(ines, data_of(message, DataButton, choice="erase"), message)
    assert "You still lead Harbour Hall strength" in ines.last_message.text
    assert evening.rows("SELECT count(*) FROM dialogue WHERE kind = 'erase'") == [(0,)]


async def test_strangers_other_members_cancelled_and_doubled_taps_erase_nobody_else(
    evening: Evening,
) -> None:
    ana, ben, stranger = evening.members["Ana"], evening.members["Ben"], evening.api.person("Stu")
    assert "invited" in (await evening.say(stranger, "/mydata")).text
    message = await evening.say(ana, "/mydata")
    await evening.press(ana, data_of(message, DataButton, choice="erase"), message)
    yes = data_of(ana.last_message, DataButton, choice="yes")
    for data in (yes, data_of(message, DataButton, choice="export")):
        for other in (ben, stranger):
            press = other.press_raw(message.message_id, data)
            await evening.settle()
            assert press.answer is not None
            assert press.answer.text in REFUSALS
    await evening.say(ana, "/cancel")
    ana.press_raw(message.message_id, yes)
    await evening.settle()
    assert evening.rows("SELECT count(*) FROM person") == [(4,)]
    await evening.say(ana, "/mydata")
    await evening.press(ana, data_of(ana.last_message, DataButton, choice="erase"))
    question = ana.last_message
    await evening.press(ana, data_of(question, DataButton, choice="no"), question)
    assert "stays as it is" in ana.last_message.text
    await evening.say(ana, "/mydata")
    await evening.press(ana, data_of(ana.last_message, DataButton, choice="erase"))
    last = ana.last_message
    for _ in range(2):
        ana.press_raw(last.message_id, data_of(last, DataButton, choice="yes"))
    await evening.settle()
    assert evening.rows("SELECT count(*) FROM person") == [(3,)]


async def _erase_again(live: Path) -> None:
    """What happens right after a backup was restored."""
    async with open_database(live) as database:
        async with database.transaction() as tx:
            await erase_again(tx, PROMPTED)
        await database.sweep()
