"""Alerts survive an upgrade, and thresholds and notes are kept as they were chosen."""

from datetime import timedelta
from pathlib import Path

import pytest

from bot.storage import alerts, notings, thresholds
from bot.storage.database import Database, Transaction, open_database
from bot.storage.dialogues import end_dialogues, stop_typing
from bot.storage.erasure import erase_person
from bot.storage.people import Person, person_of_account, remember
from bot.storage.sqlite import connect
from bot.storage.upgrade import known_scripts, upgrade
from core.alert import Alert, AlertKind, Sighting
from core.rules import ALERT_AGAIN
from core.thresholds import DEFAULTS, Threshold
from tests.fixed_clock import NOON

AT = "2026-03-01T12:00:00Z"
OLD_ALERT = (
    '{"member":"ana","kind":"maximal classes","cause":["s"],"evidence":[{"on":"2026-02-26",'
    '"movement":null,"effort":10.0,"dose":null,"completed":null}],"symptom":null}'
)
FILLED = (
    "INSERT INTO person (id, account, name, met_at) VALUES ('ines', 2, 'Ines', :at)",
    "INSERT INTO person (id, account, name, met_at) VALUES ('ana', 1, 'Ana', :at)",
    "INSERT INTO training_group (id, name, made_at, plan_id) VALUES ('g', 'Hall', :at, 'p')",
    """INSERT INTO alert (id, group_id, person_id, kind, document, raised_at, acknowledged_at,
        acknowledged_by) VALUES ('a', 'g', 'ana', 'maximal classes', :alert, :at, :at, 'ines')""",
    """INSERT INTO alert (id, group_id, person_id, kind, document, raised_at)
        VALUES ('b', 'g', 'ana', 'maximal classes', :alert, :at)""",
)


async def test_a_filled_database_keeps_its_alerts_and_lets_them_be_cleared(tmp_path: Path) -> None:
    path = tmp_path / "old.sqlite3"
    async with connect(path) as engine:
        before = tuple(each for each in known_scripts() if each.number < 12)
        await upgrade(engine, AT, before)
        for statement in FILLED:
            await engine.run(statement, {"at": AT, "alert": OLD_ALERT})
    async with open_database(path) as database, database.transaction() as tx:
        seen, unseen = await alerts.open_alerts(tx, "g")
        assert (seen.acknowledged_by, unseen.acknowledged_by) == ("ines", None)
        assert seen.fact.evidence[0].effort == 10
        assert await alerts.alerts_to_repeat(tx, NOON + timedelta(days=9)) == ()
        await alerts.clear_alert(tx, "b", "ines", "spoke to her", NOON)
        assert [each.id for each in await alerts.open_alerts(tx, "g")] == ["a"]
        assert len(await alerts.unresolved_alerts(tx, "g")) == 2


@pytest.fixture
async def ines(database: Database) -> Person:
    """The instructor of a group that has one member."""
    async with database.transaction() as tx:
        person = await remember(tx, 2, "Ines", "en", NOON)
        await remember(tx, 1, "Ana", "en", NOON)
        await tx.execute(FILLED[2], at=AT)
    return person


async def raised(tx: Transaction, kind: AlertKind) -> str:
    """An alert about the member."""
    ana = await person_of_account(tx, 1)
    assert ana is not None
    evidence = (Sighting(on=NOON.date(), effort=10),)
    alert = Alert(member=ana.id, kind=kind, cause=("s",), evidence=evidence)
    await alerts.raise_alert(tx, "g", alert, None, NOON)
    return alerts.alert_id("g", alert)


async def test_only_what_is_urgent_and_unseen_comes_again(database: Database, ines: Person) -> None:
    async with database.transaction() as tx:
        urgent = await raised(tx, AlertKind.MAXIMAL_CLASSES)
        await raised(tx, AlertKind.QUIET)
        soon = NOON + ALERT_AGAIN
        assert await alerts.alerts_to_repeat(tx, soon - timedelta(seconds=1)) == ()
        assert [each.id for each in await alerts.alerts_to_repeat(tx, soon)] == [urgent]
        await alerts.acknowledge(tx, urgent, ines.id, NOON)
        assert await alerts.alerts_to_repeat(tx, soon) == ()


async def test_what_was_cleared_stays_cleared_while_it_still_holds(
    database: Database, ines: Person
) -> None:
    async with database.transaction() as tx:
        alert = await raised(tx, AlertKind.QUIET)
        await alerts.clear_alert(tx, alert, ines.id, None, NOON)
        await raised(tx, AlertKind.QUIET)
        assert await alerts.open_alerts(tx, "g") == ()
        await alerts.open_again(tx, alert)
        assert [each.id for each in await alerts.open_alerts(tx, "g")] == [alert]


async def test_a_note_is_waited_for_until_something_newer_is_asked(
    database: Database, ines: Person
) -> None:
    async with database.transaction() as tx:
        alert = await raised(tx, AlertKind.QUIET)
        for end in (stop_typing, end_dialogues, notings.end_noting):
            await notings.ask_for_note(tx, ines.id, alert, NOON)
            assert await notings.noted_alert(tx, ines.id) == alert
            await end(tx, ines.id)
            assert await notings.noted_alert(tx, ines.id) is None
        await notings.ask_for_note(tx, ines.id, alert, NOON)
        await notings.forget_notings(tx, NOON + timedelta(seconds=1))
        assert await notings.noted_alert(tx, ines.id) is None


async def test_erasing_the_member_ends_the_question_and_erasing_who_cleared_it_keeps_the_alert(
    database: Database, ines: Person
) -> None:
    async with database.transaction() as tx:
        alert = await raised(tx, AlertKind.QUIET)
        await alerts.clear_alert(tx, alert, ines.id, "spoke to her", NOON)
        await notings.ask_for_note(tx, ines.id, alert, NOON)
        await erase_person(tx, ines, NOON)
        kept = await alerts.alert(tx, alert)
        assert kept is not None
        assert (kept.cleared_by, kept.note) == (None, "spoke to her")
        ana = await person_of_account(tx, 1)
        assert ana is not None
        await erase_person(tx, ana, NOON)
        assert await alerts.alert(tx, alert) is None


async def test_chosen_thresholds_hold_and_unknown_ones_are_passed_over(
    database: Database, ines: Person
) -> None:
    async with database.transaction() as tx:
        await thresholds.put_threshold(tx, "g", Threshold.QUIET, 2, NOON)
        await thresholds.put_threshold(tx, "g", Threshold.QUIET, 4, NOON)
        await tx.execute(
            "INSERT INTO threshold (group_id, name, value, changed_at) VALUES ('g', 'odd', 1, :at)",
            at=AT,
        )
        now = await thresholds.thresholds_of(tx, "g")
    assert now.of(Threshold.QUIET) == 4
    assert now.of(Threshold.BELOW) == DEFAULTS[Threshold.BELOW]
