"""The command line: exit codes, one line when something is wrong, and never the token."""

import asyncio
import os
import signal
import sys
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

import pytest
from aiohttp import web

from bot.__main__ import _take_short_turns, main
from bot.storage.database import open_database
from bot.storage.lock import hold_lock
from demo_script.stand_in import StandIn
from tests.journeys.plans import plan_text

pytestmark = pytest.mark.usefixtures("nothing_set")

TOKEN = "123456:secret-that-must-stay-secret"
PATIENCE_SECONDS = 30.0


@pytest.fixture
def plan(tmp_path: Path) -> str:
    """A plan file."""
    file = tmp_path / "plan.toml"
    file.write_text(plan_text())
    return str(file)


@pytest.fixture
def reports(tmp_path: Path) -> str:
    """What was written on paper after one class."""
    file = tmp_path / "reports.csv"
    file.write_text(
        "member,date,movement,variation,amount,load,completed,effort,reserve\n"
        "Ana,2026-09-03,Side plank,knees bent,30,,,6,\n"
    )
    return str(file)


def complaint(capsys: pytest.CaptureFixture[str]) -> str:
    """The one line on standard error."""
    said = capsys.readouterr()
    assert said.err.endswith("\n")
    assert said.err.count("\n") == 1, said.err
    assert said.err.startswith("class-effort-bot: ")
    return said.err


def refused(*arguments: str) -> int | str | None:
    """The exit code of a command line that isn't even understood."""
    with pytest.raises(SystemExit) as leaving:
        main(arguments)
    return leaving.value.code


def test_a_good_plan_is_summed_up(plan: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", plan]) == 0
    assert "Harbour Hall strength" in capsys.readouterr().out


def test_a_bad_plan_is_refused_in_one_line_with_file_and_field(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    bad = tmp_path / "bad.toml"
    bad.write_text(plan_text(timezone="Europe/Atlantis"))
    assert main(["check", str(bad)]) == 2
    said = complaint(capsys)
    for told in ("bad.toml", "timezone", "Europe/Atlantis", "expected"):
        assert told in said


@pytest.mark.parametrize("kind", ["missing", "folder", "binary"])
def test_what_is_no_plan_file_is_refused(
    tmp_path: Path, kind: str, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "plan.toml"
    if kind == "folder":
        file.mkdir()
    elif kind == "binary":
        file.write_bytes(bytes(range(256)))
    assert main(["check", str(file)]) == 2
    assert "plan.toml" in complaint(capsys)


@pytest.mark.parametrize("form", ["table", "json", "csv"])
def test_suggestions_come_without_a_token(
    plan: str, reports: str, form: str, capsys: pytest.CaptureFixture[str]
) -> None:
    asked = ["suggest", "--plan", plan, "--reports", reports, "--format", form]
    assert main([*asked, "--date", "2026-09-10"]) == 0
    assert "Ana" in capsys.readouterr().out


def test_bad_reports_are_refused_in_one_line_with_file_and_line(
    plan: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    bad = tmp_path / "bad.csv"
    bad.write_text(
        "member,date,movement,variation,amount,load,completed,effort,reserve\n"
        "Ana,2026-09-03,Side plank,knees bent,30,,,eleven,\n"
    )
    assert main(["suggest", "--plan", plan, "--reports", str(bad)]) == 2
    said = complaint(capsys)
    assert "bad.csv" in said
    assert "2" in said


@pytest.mark.parametrize(
    "arguments",
    [
        [],
        ["dance"],
        ["check", "a", "b"],
        ["suggest"],
        ["suggest", "--plan", "p", "--reports", "r", "--date", "tomorrow"],
        ["suggest", "--plan", "p", "--reports", "r", "--ask", "4"],
        ["suggest", "--plan", "p", "--reports", "r", "--format", "xml"],
        ["backup"],
        ["restore"],
        ["run", "fast"],
    ],
)
def test_a_command_line_that_is_not_understood_leaves_with_two(
    arguments: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert refused(*arguments) == 2
    complaint(capsys)


def test_help_is_no_error(capsys: pytest.CaptureFixture[str]) -> None:
    assert refused("--help") == 0
    assert "suggest" in capsys.readouterr().out


async def make_database() -> None:
    """The database that the commands look for."""
    async with open_database(Path("class-effort.sqlite3")):
        pass


def test_a_backup_is_made_and_put_back(capsys: pytest.CaptureFixture[str]) -> None:
    asyncio.run(make_database())
    assert main(["backup", "saved.sqlite3"]) == 0
    assert main(["restore", "saved.sqlite3"]) == 0
    assert "Restored" in capsys.readouterr().out
    assert main(["backup", "saved.sqlite3"]) == 2
    assert "saved.sqlite3" in complaint(capsys)


def test_without_a_database_there_is_nothing_to_back_up(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["backup", "saved.sqlite3"]) == 2
    assert "class-effort.sqlite3" in complaint(capsys)


def test_a_broken_backup_is_not_put_back(capsys: pytest.CaptureFixture[str]) -> None:
    asyncio.run(make_database())
    Path("saved.sqlite3").write_text("nothing of ours")
    assert main(["restore", "saved.sqlite3"]) == 2
    assert "saved.sqlite3" in complaint(capsys)


def test_nothing_is_put_back_under_a_running_bot(capsys: pytest.CaptureFixture[str]) -> None:
    asyncio.run(make_database())
    assert main(["backup", "saved.sqlite3"]) == 0
    capsys.readouterr()
    with hold_lock(Path("class-effort.sqlite3")):
        assert main(["restore", "saved.sqlite3"]) == 1
    assert "in use" in complaint(capsys)


def test_whoever_computes_gives_way_to_taps_within_a_millisecond() -> None:
    before = sys.getswitchinterval()
    try:
        _take_short_turns()
        assert sys.getswitchinterval() < 0.001
    finally:
        sys.setswitchinterval(before)


def test_running_without_a_token_names_the_variable(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["run"]) == 2
    assert "CLASS_EFFORT_TOKEN" in complaint(capsys)


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("CLASS_EFFORT_API_URL", "telegram"),
        ("CLASS_EFFORT_OWNER_CODE", "short"),
        ("CLASS_EFFORT_TOKEN", ""),
    ],
)
def test_a_setting_that_is_wrong_is_named_and_the_token_is_not(
    name: str, value: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("CLASS_EFFORT_TOKEN", TOKEN)
    monkeypatch.setenv(name, value)
    assert main(["run"]) == 2
    said = complaint(capsys)
    assert name in said
    assert "secret" not in said


# --- the real process -------------------------------------------------------------------------


async def start(folder: Path, **settings: str) -> asyncio.subprocess.Process:
    """`python -m bot run` in that folder; what it writes goes to one pipe."""
    environment = {**os.environ, "PYTHONPATH": str(Path.cwd()), "CLASS_EFFORT_TOKEN": TOKEN}
    environment |= {f"CLASS_EFFORT_{name.upper()}": value for name, value in settings.items()}
    environment.setdefault("CLASS_EFFORT_DATABASE", str(folder / "class-effort.sqlite3"))
    return await asyncio.create_subprocess_exec(
        sys.executable, "-m", "bot", "run",
        cwd=ROOT, env=environment,
        stdout=asyncio.subprocess.PIPE, stderr=asyncio.subprocess.STDOUT,
    )  # fmt: skip


ROOT = Path(__file__).parents[2]


async def said_by(process: asyncio.subprocess.Process) -> str:
    """Everything that it wrote, once it has ended."""
    async with asyncio.timeout(PATIENCE_SECONDS):
        written, _ = await process.communicate()
    return written.decode()


async def test_a_wrong_token_is_told_in_one_line_without_it(tmp_path: Path) -> None:
    async with StandIn() as api:
        process = await start(tmp_path, api_url=api.url)
        said = await said_by(process)
    assert process.returncode == 1
    assert "CLASS_EFFORT_TOKEN" in said
    assert "Traceback" not in said
    assert "secret" not in said


async def test_a_second_process_on_one_database_is_refused(tmp_path: Path) -> None:
    with hold_lock(tmp_path / "class-effort.sqlite3"):
        process = await start(tmp_path, api_url="http://127.0.0.1:9")
        said = await said_by(process)
    assert process.returncode == 1
    assert "in use" in said
    assert "Traceback" not in said


@asynccontextmanager
async def nonsense(status: int, body: str) -> AsyncIterator[tuple[str, asyncio.Event]]:
    """A server that is no Bot API, and whether it was asked."""
    asked = asyncio.Event()

    async def answer(_: web.Request) -> web.Response:
        asked.set()
        return web.Response(status=status, text=body, content_type="text/html")

    app = web.Application()
    app.router.add_route("*", "/{rest:.*}", answer)
    runner = web.AppRunner(app, access_log=None)
    await runner.setup()
    site = web.TCPSite(runner, "127.0.0.1", 0)
    await site.start()
    try:
        yield f"http://127.0.0.1:{runner.addresses[0][1]}", asked
    finally:
        await runner.cleanup()


@pytest.mark.parametrize(("status", "body"), [(200, "<html>hello</html>"), (403, "no")])
async def test_at_a_wrong_address_it_waits_and_tells_no_token(
    tmp_path: Path, status: int, body: str
) -> None:
    async with nonsense(status, body) as (url, asked):
        process = await start(tmp_path, api_url=url)
        async with asyncio.timeout(PATIENCE_SECONDS):
            await asked.wait()
        await asyncio.sleep(0.2)
        process.send_signal(signal.SIGTERM)
        said = await said_by(process)
    assert process.returncode == 0, said
    assert "event=the-chat-api-is-out-of-reach" in said
    assert "Traceback" not in said
    assert "secret" not in said


async def test_sigterm_ends_a_running_bot_well_and_soon(tmp_path: Path) -> None:
    async with StandIn(token=TOKEN) as api:
        process = await start(tmp_path, api_url=api.url)
        await api.until(lambda: api.world.updates.has_poller, PATIENCE_SECONDS)
        process.send_signal(signal.SIGTERM)
        async with asyncio.timeout(10):
            await process.wait()
        said = await said_by(process)
    assert process.returncode == 0
    assert "/start" in said  # the code that claims it is told on the console
    assert "Traceback" not in said
    assert "secret" not in said


async def test_a_given_owner_code_is_not_repeated_on_the_console(tmp_path: Path) -> None:
    async with StandIn(token=TOKEN) as api:
        process = await start(tmp_path, api_url=api.url, owner_code="a-code-of-my-own")
        await api.until(lambda: api.world.updates.has_poller, PATIENCE_SECONDS)
        process.send_signal(signal.SIGTERM)
        said = await said_by(process)
    assert "a-code-of-my-own" not in said


async def test_a_token_that_is_revoked_while_it_runs_ends_it(tmp_path: Path) -> None:
    async with StandIn(token=TOKEN) as api:
        process = await start(tmp_path, api_url=api.url)
        await api.until(lambda: api.world.updates.has_poller, PATIENCE_SECONDS)
        api._server._token = "123456:another"
        api.person("Somebody").press_start()
        said = await said_by(process)
    assert process.returncode == 1
    assert "CLASS_EFFORT_TOKEN" in said
    assert "Traceback" not in said
    assert "secret" not in said
