"""After a class everybody is asked a few at a time, so that whoever taps isn't kept waiting."""

from collections import Counter
from datetime import timedelta
from typing import Any

import pytest

from bot.buttons import AnswerButton
from bot.desk import opening
from bot.desk.preparing import prepare
from bot.storage.database import Transaction
from bot.storage.prompts import Prompt
from tests.journeys.evening import PROMPTED, Evening, asked, buttons, sent_to

NAMES = tuple(f"Member {number}" for number in range(2 * opening.A_FEW + 1))


async def crowd(evening: Evening) -> list[str]:
    """A class with more members than are asked at once; the three of the stage are in it."""
    await evening.join(*NAMES)
    return [*evening.members]


async def test_only_a_few_are_asked_in_one_transaction(
    evening: Evening, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked_in = Counter[Transaction]()

    async def counted(tx: Transaction, *more: Any) -> Prompt:
        asked_in[tx] += 1
        return await prepare(tx, *more)

    monkeypatch.setattr("bot.desk.opening.prepare", counted)
    everyone = await crowd(evening)
    await evening.class_is_over()
    assert all(asked(evening.members[name].last_message) for name in everyone)
    assert asked_in.total() == len(everyone)
    assert max(asked_in.values()) == opening.A_FEW


async def test_what_broke_off_halfway_is_taken_up_where_it_was(
    evening: Evening, monkeypatch: pytest.MonkeyPatch
) -> None:
    calls, breaks = 0, True

    async def breaking(tx: Transaction, *more: Any) -> Prompt:
        nonlocal calls
        calls += 1
        if breaks and calls > opening.A_FEW + 1:
            raise RuntimeError("a part of it fails")
        return await prepare(tx, *more)

    monkeypatch.setattr("bot.desk.opening.prepare", breaking)
    everyone = await crowd(evening)
    await evening.class_is_over()
    assert evening.rows("SELECT count(*) FROM prompt") == [(opening.A_FEW,)]
    breaks = False
    since = len(evening.api.log)
    await evening.leap(PROMPTED + timedelta(minutes=1))
    for name in everyone:
        person = evening.members[name]
        shown = [each for each in person.messages if AnswerButton in map(type, buttons(each))]
        assert len(shown) == 1, name
    late = [name for name in everyone if sent_to(evening.api, evening.members[name], since)]
    assert len(late) == len(everyone) - opening.A_FEW, "who had been asked is left alone"
