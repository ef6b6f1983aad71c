"""Exports: a group's answers as files that are safe to open, and give the same suggestions."""

import csv
import io
import json
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

from bot.buttons import EstimateButton, VerdictButton
from bot.desk.advice import work_out
from bot.offline import Format, suggest
from bot.offline.shapes import as_json
from bot.reportsfile import COLUMNS
from bot.reportsfile.write import distinct
from bot.storage import groups, sessions
from bot.storage.members import members
from core.suggestion import Advice
from core.verdict import Verdict
from demo_script.stand_in import Message, Person
from tests.journeys.evening import PROMPTED, STARTS, WEEK, Evening, agree
from tests.journeys.plans import plan_text

NAMES = ("plan.toml", "answers.csv", "group.json")
STRANGE = ("=1+1", "'=1+1", "@Ana", "-Ana", "Ana", "Ana", "+49 Ben", 'Zoë; "Z", <b>')


async def export(evening: Evening) -> dict[str, bytes]:
    """Ask for it; the files that came."""
    since = len(evening.instructor.messages)
    await evening.say(evening.instructor, "/export")
    return files(evening.instructor.messages[since:])


def files(messages: tuple[Message, ...]) -> dict[str, bytes]:
    """What was exported, by name."""
    return {
        each.attachment.name: each.document
        for each in messages
        if each.sender_id != each.chat_id  # not what the instructor sent
        and each.attachment
        and each.document
        and each.attachment.name in NAMES
    }


async def strangely_named(evening: Evening) -> list[Person]:
    """Members whose names are trouble, one after the other."""
    people = []
    for name in STRANGE:
        person = evening.api.person(name)
        person.open_link(evening.link)
        await evening.settle()
        agree(person)
        await evening.settle()
        people.append(person)
    return people


async def too_hard(evening: Evening, person: Person) -> None:
    """Said while the class is on, about the second movement."""
    (session,) = evening.rows(
        "SELECT id FROM session WHERE starts_at = ?", evening.now.isoformat()[:19] + "Z"
    )
    press = person.press_raw(1, VerdictButton(str(session[0]), Verdict.HARD, 1).write())
    await evening.settle()
    assert press.answer is not None


async def four_weeks(evening: Evening) -> list[Person]:
    """Answers of every kind: pain, absence, cut short, typed, silent, noted, too hard, guessed."""
    people = await strangely_named(evening)
    first, second, third, hurt, away, quiet, *rest = people
    (group,) = (str(row[0]) for row in evening.rows("SELECT id FROM training_group"))
    for estimate in (EstimateButton(group, 0, 3), EstimateButton(group, 2, 1)):
        quiet.press_raw(quiet.last_message.message_id, estimate.write())
    await evening.settle()
    for week in range(4):
        await evening.leap(STARTS + week * WEEK)
        if week in (1, 2):
            await too_hard(evening, third)
        await evening.class_is_over(week)
        await evening.answer_all(first, c=8, e=8)
        await evening.answer_all(second, c=9, e0="unfinished", d0=5)
        if week % 2:
            await evening.answer_all(third, c=5, e=4)
            await evening.answer(away, "c", "absent")
        if week == 3:
            await evening.answer_all(hurt, c=7, h="pain", w=0)
        for person in rest:
            await evening.answer_all(person, c=6 + week % 3, e=6 + week % 3)
    await evening.say(evening.instructor, "/attendance")
    for _ in range(2):
        message = evening.instructor.last_message
        data = next(
            key.data
            for row in message.buttons
            for key in row
            if key.label.endswith(f" {quiet.name}") and "•" not in key.label
        )
        await evening.press(evening.instructor, data or "", message)
    assert evening.rows("SELECT word FROM attendance ORDER BY word") == [("absent",)]
    return people


async def bots_own(evening: Evening) -> str:
    """What the bot would say now for the next class, in the shape of the offline command."""
    async with evening.theatre.house.database.transaction() as tx:
        (group,) = await groups.all_groups(tx)
        session = await sessions.next_session(tx, group.id, evening.now)
        assert session is not None
        ready, people = await work_out(tx, session), await members(tx, group.id)
    plan, advice = ready.plan, ready.advice
    unique = distinct(each.name for each in people)
    names = {each.id: name for each, name in zip(people, unique, strict=True)}
    named = Advice(
        suggestions=tuple(replace(e, member=names[e.member]) for e in advice.suggestions),
        options=tuple(
            replace(e, members=tuple(names[each] for each in e.members)) for e in advice.options
        ),
        called=tuple(replace(e, member=names[e.member]) for e in advice.called),
        asks=tuple(replace(e, member=names[e.member]) for e in advice.asks),
    )
    return as_json(plan.plan, named, ())


async def test_the_offline_command_suggests_the_same_from_the_files(
    stage: Evening, tmp_path: Path
) -> None:
    await stage.found()
    await four_weeks(stage)
    sent = await export(stage)
    plan, table = tmp_path / "plan.toml", tmp_path / "answers.csv"
    plan.write_bytes(sent["plan.toml"])
    table.write_bytes(sent["answers.csv"])
    assert stage.rows("SELECT count(*) FROM estimate") == [(2,)]
    assert stage.rows("SELECT count(*) FROM verdict") == [(2,)]
    assert stage.rows("SELECT count(*) FROM attendance")[0] > (0,)
    day = (STARTS + 4 * WEEK).date()
    theirs = json.loads(suggest(plan, table, day, format=Format.JSON))
    ours = json.loads(await bots_own(stage))
    assert len(theirs["suggestions"]) == len(STRANGE) * 3
    for mine, other in zip(ours["suggestions"], theirs["suggestions"], strict=True):
        assert mine == other
    assert _sorted(ours["options"]) == _sorted(theirs["options"])
    assert ours["ask"] == theirs["ask"]
    assert {each["kind"] for each in theirs["alerts"]} >= {"pain"}


def _sorted(options: list[dict[str, object]]) -> list[dict[str, object]]:
    """Options with their members in one order: here they go by id, there by name."""
    return [{**each, "members": sorted(each["members"])} for each in options]  # type: ignore[call-overload]


async def test_no_cell_is_run_by_a_spreadsheet_and_equal_names_stay_apart(
    stage: Evening,
) -> None:
    await stage.found()
    await strangely_named(stage)
    sent = await export(stage)
    text = sent["answers.csv"].decode("utf-8-sig")
    rows = list(csv.reader(io.StringIO(text)))
    assert tuple(rows[0]) == COLUMNS
    for row in rows:
        for cell in row:
            assert not cell.startswith(("=", "+", "-", "@", "\t", "\r"))
    assert all(line.startswith('"') and line.endswith('"') for line in text.splitlines())
    names = [row[0] for row in rows[1:]]
    assert len(set(names)) == len(STRANGE)
    assert "Ana (2)" in names
    members = [each["name"] for each in json.loads(sent["group.json"])["members"]]
    assert len(set(members)) == len(STRANGE)


async def test_the_other_file_explains_itself_and_keeps_who_has_left(evening: Evening) -> None:
    await evening.class_is_over()
    for person in evening.members.values():
        await evening.answer_all(person, h="soreness")
    async with evening.theatre.house.database.transaction() as tx:
        await tx.execute(
            """INSERT INTO note (id, group_id, person_id, text, written_at)
            SELECT 'abcdefgh2345', group_id, person_id, 'Quokka', agreed_at FROM membership
            LIMIT 1"""
        )
        await tx.execute(
            """UPDATE membership SET left_at = agreed_at, removed_at = agreed_at
            WHERE person_id = (SELECT id FROM person WHERE name = 'Ben')"""
        )
    sent = await export(evening)
    data = json.loads(sent["group.json"])
    assert set(data) - {"about"} == set(data["about"]) - {"columns", "left_out"}
    assert tuple(data["about"]["columns"]) == COLUMNS
    assert {each["name"]: each["state"] for each in data["members"]} == {
        "Ana": "joined",
        "Ben": "left",
        "Cleo": "joined",
    }
    (first,) = data["classes"]
    assert {each["member"] for each in first["answers"]} == {"Ana", "Ben", "Cleo"}
    assert len(data["symptoms"]) == 3
    assert data["plans"][0]["document"] == plan_text()
    assert "Ben" not in sent["answers.csv"].decode()
    assert "Quokka" not in repr(sent)
    for person in evening.members.values():
        assert str(person.person_id) not in sent["group.json"].decode()


async def test_only_instructors_get_it_and_twice_is_once(evening: Evening) -> None:
    ana, ines = evening.members["Ana"], evening.instructor
    for person in (ana, evening.api.person("Stu")):
        await evening.say(person, "/export")
        assert files(person.messages) == {}
    await evening.say(ines, "/export")
    count = sum(each.document is not None for each in ines.messages)
    async with evening.theatre.house.database.transaction() as tx:
        await tx.execute("UPDATE export SET done_at = NULL")  # as if killed before the last word
    await evening.leap(evening.now + timedelta(minutes=3))
    assert len([each for each in ines.messages if each.document]) == count
    assert evening.rows("SELECT count(*) FROM export WHERE done_at IS NULL") == [(0,)]


async def test_an_export_that_a_kill_has_interrupted_comes_after_all(evening: Evening) -> None:
    await evening.class_is_over()
    async with evening.theatre.house.database.transaction() as tx:
        await tx.execute(
            """INSERT INTO export (id, group_id, person_id, asked_at)
            SELECT 'abcdefgh2345', group_id, person_id, since FROM leading"""
        )
    await evening.leap(PROMPTED + timedelta(minutes=1))
    assert set(files(evening.instructor.messages)) == set(NAMES)


async def test_whoever_has_stopped_leading_meanwhile_gets_nothing(evening: Evening) -> None:
    async with evening.theatre.house.database.transaction() as tx:
        await tx.execute(
            """INSERT INTO export (id, group_id, person_id, asked_at)
            SELECT 'abcdefgh2345', group_id, person_id, since FROM leading"""
        )
        await tx.execute("DELETE FROM leading")
    await evening.leap(evening.now + timedelta(minutes=5))
    assert files(evening.instructor.messages) == {}
    assert evening.rows("SELECT count(*) FROM export WHERE done_at IS NULL") == [(0,)]
