"""Malformed updates and files, and buttons in the wrong hands: no traceback, leak or change."""

import random

import pytest

from bot.delivery.shape import is_sound
from tests.campaigns.fuzz import Findings, open_mischief, read_torn_files


@pytest.mark.parametrize("count", [250, pytest.param(3_000, marks=pytest.mark.long)])
async def test_whatever_others_send_or_press_breaks_tells_and_changes_nothing(count: int) -> None:
    luck = random.Random(20260903)
    async with open_mischief(luck) as mischief:
        unsound = [each for each in mischief.updates if not is_sound(each)]
        assert unsound == [], "what the chat service really sends would be put aside"
        await mischief.befall(luck, count)
    found = mischief.found
    assert found.clean, (found.tracebacks[:3], found.leaks[:3], found.changes[:3])
    assert found.tried.total() == count
    assert 0 < found.unreadable < count


@pytest.mark.parametrize("count", [120, pytest.param(3_000, marks=pytest.mark.long)])
def test_every_torn_file_is_refused_for_a_reason_or_taken(count: int) -> None:
    found = Findings()
    read_torn_files(random.Random(20260903), count, found)
    assert found.tracebacks == []
    assert found.tried.total() == 3 * count
