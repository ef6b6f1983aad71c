"""An evening of the real process as its operator sees it: log, checks, copies."""

import asyncio
import json
import os
import sys
from collections.abc import AsyncGenerator
from contextlib import asynccontextmanager
from pathlib import Path

import pytest

from bot.settings import Settings
from bot.storage.copying import check
from demo_script.stand_in import Person, Trouble
from demo_script.stand_in.faults import times
from tests.campaigns.ground import Ground, open_ground, until_it_works
from tests.journeys.evening import asked
from tests.looking import rows

PATIENCE_SECONDS = 40.0
SECRET_WORDS = "my left knee is purple"
NAMED = json.dumps(
    {"ok": False, "error_code": 400, "description": 'Bad Request: unsupported tag "Member 0.1"'}
)


class Command:
    """One run of the real program, with everything that it writes."""

    def __init__(self, settings: Settings) -> None:
        self._environment = {
            **os.environ,
            "CLASS_EFFORT_TOKEN": settings.token.text,
            "CLASS_EFFORT_API_URL": settings.api_url,
            "CLASS_EFFORT_DATABASE": str(settings.database),
        }
        self.written = ""
        self.process: asyncio.subprocess.Process | None = None
        self._reading: asyncio.Task[None] | None = None

    async def start(self, *arguments: str) -> None:
        """Begin, and go on in the background."""
        self.process = await asyncio.create_subprocess_exec(
            sys.executable, "-m", "bot", *arguments, env=self._environment,
            stdout=asyncio.subprocess.PIPE, stderr=asyncio.subprocess.STDOUT,
        )  # fmt: skip
        self._reading = asyncio.create_task(self._read())

    async def _read(self) -> None:
        assert self.process is not None
        assert self.process.stdout is not None
        while line := await self.process.stdout.readline():
            self.written += line.decode()

    async def end(self) -> int:
        """Wait until it has ended; its exit code."""
        assert self.process is not None
        assert self._reading is not None
        async with asyncio.timeout(PATIENCE_SECONDS):
            await self._reading
            return await self.process.wait()


@asynccontextmanager
async def evening(folder: Path) -> AsyncGenerator[tuple[Ground, Command]]:
    """A class that is just over, and the real process that has asked its members about it."""
    async with open_ground(folder, members=3) as ground:
        bot = Command(ground.run.settings)
        await bot.start("run")
        try:
            await until_it_works(ground.api)
            await ground.api.until(lambda: all(map(is_asked, ground.members)), PATIENCE_SECONDS)
            yield ground, bot
        finally:
            assert bot.process is not None
            if bot.process.returncode is None:
                bot.process.kill()
            await bot.end()


def is_asked(person: Person) -> bool:
    return asked(person.last_message) is not None


async def run(settings: Settings, *arguments: str) -> tuple[int, str]:
    """One other command, to its end."""
    command = Command(settings)
    await command.start(*arguments)
    return await command.end(), command.written


def stored(settings: Settings, sql: str) -> list[object]:
    return [row[0] for row in rows(settings.database, sql)]


async def test_nothing_that_is_written_names_anybody_or_what_they_said(tmp_path: Path) -> None:
    async with evening(tmp_path) as (ground, bot):
        settings = ground.run.settings
        ana, ben, cleo = ground.members
        refused = Trouble(status=400, body=NAMED)
        ground.api.faults.append(times(1, "sendMessage", refused))
        ana.say("8")
        for text in (SECRET_WORDS, "/hurt", "/progress", "9.5", "/start not-a-code"):
            ben.say(text)
        cleo.send_document("plan.toml", f'name = "{SECRET_WORDS}"'.encode())
        cleo.press_raw(cleo.last_message.message_id, f"a:{SECRET_WORDS}")
        ground.api.world.updates.add("message", {"from": "Member 0.1", "text": SECRET_WORDS})
        await ground.until_quiet()
        looked = await asyncio.gather(run(settings, "check"), run(settings, "check", "--alive"))
        saved = await run(settings, "backup", str(tmp_path / "saved"))
        back = await run(settings, "restore", str(tmp_path / "saved"))
        assert bot.process is not None
        bot.process.terminate()
        assert await bot.end() == 0

    assert [code for code, _ in looked] == [0, 0], looked
    assert saved[0] == 0
    assert back == (1, back[1])
    assert "in use by another process; stop that one first" in back[1]
    assert "event=a-letter-was-not-sent" in bot.written
    assert "event=an-update-is-parked" in bot.written
    everything = "".join((bot.written, saved[1], back[1], *(told for _, told in looked)))
    secret = settings.token.text.partition(":")[2]
    for hidden in (secret, "Member", "Ines", SECRET_WORDS, "knee", "9.5", "not-a-code"):
        assert hidden not in everything, hidden
    lines = [line for line in bot.written.splitlines() if line]
    assert all(line.startswith("at=20") for line in lines), lines


@pytest.mark.long
async def test_a_backup_amid_the_answers_is_sound_and_can_be_put_back_afterwards(
    tmp_path: Path,
) -> None:
    async with evening(tmp_path) as (ground, bot):
        settings = ground.run.settings
        saving = asyncio.create_task(run(settings, "backup", str(tmp_path / "saved")))
        number = 0
        while not saving.done():
            ground.members[number % 3].say(str(number % 9))
            number += 1
            await asyncio.sleep(0.05)
        assert (await saving)[0] == 0
        await ground.until_quiet()
        assert bot.process is not None
        bot.process.terminate()
        assert await bot.end() == 0
        check(tmp_path / "saved")
        assert (tmp_path / "saved").stat().st_mode & 0o777 == 0o600
        answers = stored(settings, "SELECT count(*) FROM answer")
        code, told = await run(settings, "restore", str(tmp_path / "saved"))
        assert code == 0, told
        assert stored(settings, "SELECT count(*) FROM person") == [4]
        assert stored(settings, "SELECT count(*) FROM answer") <= answers
    modes = {file.name: file.stat().st_mode & 0o077 for file in tmp_path.iterdir()}
    assert set(modes.values()) == {0}, modes
    assert not [name for name in modes if name.endswith((".restoring", "part"))]
