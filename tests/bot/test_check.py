"""`check` tells in ten lines what is fine, and what to do where something isn't."""

import asyncio
import sqlite3
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager, closing
from datetime import UTC, datetime, timedelta
from email.utils import format_datetime
from pathlib import Path

import pytest
from aiohttp import web

from bot.__main__ import FORMATS, main
from bot.alive import LONGEST_SILENCE, is_alive
from bot.health import Finding, examine
from bot.offline import Format
from bot.settings import Secret, Settings
from bot.storage.backup import backup
from bot.storage.database import open_database
from bot.storage.health import FileHealth, look_at
from bot.storage.lock import hold_lock
from bot.storage.pulse import POLL, TURN, note_beat
from demo_script.stand_in import StandIn
from tests.fixed_clock import NOON

pytestmark = pytest.mark.usefixtures("nothing_set")

TOKEN = "123456:secret-that-must-stay-secret"
NAMES = (
    "token", "address", "updates", "database", "secrecy",
    "process", "clock", "time zones", "disk", "backup",
)  # fmt: skip


def settings(url: str, token: str = TOKEN) -> Settings:
    return Settings(token=Secret(token), api_url=url)


async def found(url: str, now: datetime | None = None, token: str = TOKEN) -> dict[str, Finding]:
    """Everything that is found at this moment, by name."""
    moment = now or datetime.now(UTC)
    findings = await examine(settings(url, token), lambda: moment)
    assert tuple(each.name for each in findings) == NAMES
    assert not any("secret" in str(each) for each in findings)
    return {each.name: each for each in findings}


def amiss(findings: dict[str, Finding]) -> list[str]:
    return [name for name, each in findings.items() if not each.fine]


async def make_database(at: datetime | None = None) -> Path:
    """The database that is looked for, in use at that moment."""
    path = Path("class-effort.sqlite3")
    async with open_database(path) as database, database.transaction() as tx:
        if at is not None:
            await note_beat(tx, POLL, at)
            await note_beat(tx, TURN, at)
    return path


@asynccontextmanager
async def api(**answers: object) -> AsyncIterator[str]:
    """A server that gives these answers by method, an hour behind if there is a `late`."""

    async def answer(request: web.Request) -> web.Response:
        said = answers.get(request.path.rpartition("/")[2])
        late = timedelta(hours=1) if "late" in answers else timedelta(0)
        its_time = format_datetime(datetime.now(UTC) - late, usegmt=True)
        headers = {"Date": its_time}
        if said is None:
            return web.Response(text="<html>", content_type="text/html", headers=headers)
        return web.json_response({"ok": True, "result": said}, headers=headers)

    app = web.Application()
    app.router.add_route("*", "/{rest:.*}", answer)
    runner = web.AppRunner(app, access_log=None)
    await runner.setup()
    await web.TCPSite(runner, "127.0.0.1", 0).start()
    try:
        yield f"http://127.0.0.1:{runner.addresses[0][1]}"
    finally:
        await runner.cleanup()


async def test_all_is_well_before_the_first_run() -> None:
    async with StandIn(token=TOKEN) as stand_in:
        findings = await found(stand_in.url)
    assert amiss(findings) == []
    assert "@" in findings["token"].told
    assert "not there yet" in findings["database"].told
    assert findings["process"].told == "not running"


async def test_a_wrong_token_and_a_missing_one_are_told_apart() -> None:
    async with StandIn() as stand_in:
        wrong = await found(stand_in.url)
        missing = await found(stand_in.url, token="")
    assert amiss(wrong) == ["token"]
    assert "@BotFather" in wrong["token"].told
    assert amiss(missing) == ["token"]
    assert "CLASS_EFFORT_TOKEN is not set" in missing["token"].told


async def test_nobody_there_and_somebody_else_there_are_told_apart() -> None:
    nobody = await found("http://127.0.0.1:9")
    async with api() as url:
        strange = await found(url)
    for findings in (nobody, strange):
        assert amiss(findings) == ["token", "address"]
        assert "CLASS_EFFORT_API_URL" in findings["address"].told
    assert "no answer" in nobody["address"].told
    assert "not as the chat service does" in strange["address"].told


async def test_a_webhook_and_what_waits_are_told() -> None:
    me = {"username": "some_bot"}
    async with api(getMe=me, getWebhookInfo={"url": "", "pending_update_count": 7}) as url:
        findings = await found(url)
        assert findings["updates"].told.startswith("7 wait")
    async with api(getMe=me, getWebhookInfo={"url": "https://elsewhere/"}) as url:
        findings = await found(url)
    assert amiss(findings) == ["updates"]
    assert "deleteWebhook" in findings["updates"].told
    assert "elsewhere/" not in findings["updates"].told


async def test_a_clock_that_is_off_is_told_with_how_far() -> None:
    async with api(getMe={"username": "x"}, getWebhookInfo={"url": ""}, late=True) as url:
        findings = await found(url)
    assert amiss(findings) == ["clock"]
    assert "60 minutes ahead" in findings["clock"].told


async def test_a_clock_that_was_set_back_is_noticed_without_the_network() -> None:
    now = datetime.now(UTC)
    await make_database(now + timedelta(hours=5))
    findings = await found("http://127.0.0.1:9", now)
    assert not findings["clock"].fine
    assert "still to come" in findings["clock"].told


async def test_a_damaged_and_a_strange_database_are_told() -> None:
    path = await make_database()
    content = bytearray(path.read_bytes())
    content[len(content) // 2 :] = b"\xff" * (len(content) - len(content) // 2)
    path.write_bytes(content)
    assert not (await found("http://127.0.0.1:9"))["database"].fine
    path.write_text("shopping list\n" * 99)
    assert "restore a backup" in (await found("http://127.0.0.1:9"))["database"].told


async def test_a_newer_database_is_told() -> None:
    path = await make_database()
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("INSERT INTO schema_version VALUES (999, 'x', '2026-03-02T12:00:00Z')")
        connection.commit()
    assert "newer program" in (await found("http://127.0.0.1:9"))["database"].told


async def test_what_others_may_read_is_told_with_what_to_do() -> None:
    path = await make_database()
    assert (await found("http://127.0.0.1:9"))["secrecy"].fine
    Path(".env").write_text("CLASS_EFFORT_TOKEN=x")
    for file in (path, Path(".env")):
        file.chmod(0o640)
    told = (await found("http://127.0.0.1:9"))["secrecy"].told
    assert "chmod 600 class-effort.sqlite3 .env" in told


async def test_a_full_disk_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("bot.health.LEAST_FREE_BYTES", 2**62)
    findings = await found("http://127.0.0.1:9")
    assert not findings["disk"].fine
    assert "MB free" in findings["disk"].told


async def test_a_backup_is_asked_for_after_two_weeks() -> None:
    path = await make_database()
    now = datetime.now(UTC)
    later = now + timedelta(days=15)
    assert (await found("http://127.0.0.1:9", now))["backup"].fine
    assert not (await found("http://127.0.0.1:9", later))["backup"].fine
    backup(path, Path("saved"), now=later)
    assert (await found("http://127.0.0.1:9", later))["backup"].fine


def at(seconds: float) -> datetime:
    return NOON - timedelta(seconds=seconds)


@pytest.mark.parametrize(
    ("heard", "turned", "alive"),
    [(40, 60, True), (None, 10, False), (10, None, False), (200, 10, False), (10, 200, False),
     (-300, 10, False)],
)  # fmt: skip
def test_alive_is_who_hears_and_looks_at_the_calendar(
    heard: int | None, turned: int | None, alive: bool
) -> None:
    file = FileHealth(
        in_use=True,
        last_poll=None if heard is None else at(heard),
        last_turn=None if turned is None else at(turned),
    )
    assert is_alive(file, NOON)[0] is alive
    assert timedelta(seconds=200) > LONGEST_SILENCE


def test_who_does_not_run_is_not_alive() -> None:
    assert not is_alive(FileHealth(last_poll=NOON, last_turn=NOON), NOON)[0]


def test_the_probe_says_so_by_its_exit_code(capsys: pytest.CaptureFixture[str]) -> None:
    path = asyncio.run(make_database(datetime.now(UTC)))
    assert main(["check", "--alive"]) == 2
    assert capsys.readouterr().out == "not running\n"
    with hold_lock(path):
        assert look_at(path).in_use
        assert main(["check", "--alive"]) == 0
    assert "running; the chat service answered" in capsys.readouterr().out


def test_check_leaves_with_two_where_something_is_amiss(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("CLASS_EFFORT_API_URL", "http://127.0.0.1:9")
    assert main(["check"]) == 2
    lines = capsys.readouterr().out.splitlines()
    assert len(lines) == len(NAMES)
    assert [line.split()[0] for line in lines].count("AMISS") == 1


def test_looking_changes_nothing(tmp_path: Path) -> None:
    path = asyncio.run(make_database(NOON))
    before = path.read_bytes()
    look_at(path)
    assert path.read_bytes() == before
    assert not look_at(tmp_path / "nowhere").in_use
    assert not (tmp_path / "nowhere").exists()


def test_the_formats_of_suggestions_are_those_that_there_are() -> None:
    assert tuple(each.value for each in Format) == FORMATS
