"""The real process on a bad line: neither what it writes nor its files hold the token."""

import asyncio
import random
from pathlib import Path

from bot.settings import Settings
from demo_script.stand_in.faults import Fault, times
from tests.campaigns.room import Room
from tests.campaigns.troubles import ANY_OF, REVOKED, on_every_line, said
from tests.campaigns.truth import compare
from tests.journeys.test_operator import evening, run

BAD_LINE_SECONDS = 1.5


async def test_on_a_bad_line_and_at_a_bad_end_nothing_that_is_left_holds_the_token(
    tmp_path: Path,
) -> None:
    luck = random.Random(20260903)
    async with evening(tmp_path) as (ground, bot):
        settings, room = ground.run.settings, Room(ground.members, luck)
        trouble = _bad_line(luck)
        with room.answering():
            ground.api.faults.append(trouble)
            await asyncio.sleep(BAD_LINE_SECONDS)
            ground.api.faults.remove(trouble)
            await ground.something_is_taken_up(room)
        await ground.until_quiet()
        found = compare(ground, room)
        ground.api.faults.append(times(5, "getUpdates", said(401, REVOKED)))
        ground.members[0].say("/help")
        assert await bot.end() == 1, "a token that is revoked ends it"
        ground.api.faults.clear()
        others = [await run(settings, *each) for each in (("check",), ("backup", _place(tmp_path)))]

    assert (found.lost, found.invented, found.parked) == (0, 0, 0)
    assert found.said > 0, "nobody had time to answer: the test says nothing"
    everything = "".join([bot.written, *(told for _, told in others)])
    assert "event=asking-for-updates-failed" in bot.written
    assert "Traceback" not in everything
    assert " passed=" not in everything
    assert not _holding_the_token(settings, everything, tmp_path)
    modes = {file.name: file.stat().st_mode & 0o777 for file in tmp_path.iterdir()}
    assert set(modes.values()) == {0o600}, modes
    assert len(modes) >= 3, modes


def _bad_line(luck: random.Random) -> Fault:
    """Everything meets it but the edits, which would be repeated only after a while."""
    every = on_every_line(lambda: luck.choice(ANY_OF)(luck), luck)
    return lambda method, given: None if method.startswith("edit") else every(method, given)


def _place(folder: Path) -> str:
    return str(folder / "saved")


def _holding_the_token(settings: Settings, everything: str, folder: Path) -> list[str]:
    """Where its secret half was found."""
    secret = settings.token.text.partition(":")[2]
    files = [each for each in folder.iterdir() if secret.encode() in each.read_bytes()]
    return [str(each) for each in files] + (["what was written"] if secret in everything else [])
