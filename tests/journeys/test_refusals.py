"""Every command and every kind of button, whatever it carries, refuses those whose it isn't."""

import random
import re
from collections.abc import Iterator
from dataclasses import fields
from datetime import date, datetime, time, timedelta
from enum import Enum
from itertools import product
from typing import Any, get_args, get_origin, get_type_hints

import pytest

from bot.buttons import KINDS, Button, View
from bot.chat.contents import COMMANDS, PRESSES
from core.questions import HURT, SESSION, Question, Topic
from demo_script.stand_in import Person
from tests.journeys.evening import STARTS, Evening, agree
from tests.journeys.plans import plan_text

TRIED = 10
"""Buttons of each kind, of all that could be made of the ids in the database."""
OWN = ("dialogue",)
"""Tables in which somebody whom the bot knows may get a row about themselves: an old question of
somebody else's may be asked anew, as their own."""
A_WHILE = 120
"""Seconds between kinds, since nobody may press too much at once."""
WORDS = ("yes", "no", "y", "n", "export", "erase", "open", "end", "7", "fine", "on", "-")
"""What fields of text may hold that are no ids; whoever needs another word adds it here."""
MOMENTS: dict[Any, Any] = {
    date: STARTS.date(),
    datetime: STARTS,
    time: STARTS.time(),
    timedelta: timedelta(minutes=5),
}
QUESTIONS = (SESSION, Question(Topic.EFFORT, 0), HURT, *View)
SECRETS = ("Ana", "Ben", "Cleo", "Ines", "Harbour", "plank")
ID = re.compile(r"[a-z2-7]{12}")


async def lively(evening: Evening) -> None:
    """A group in which there is something to find for whoever tries ids."""
    ana, ines = evening.members["Ana"], evening.instructor
    await evening.upload(plan_text(minutes=45))
    await evening.leap(STARTS)
    await evening.say(ana, "/variant")
    await evening.class_is_over()
    await evening.answer_all(ana, h="pain", w=0)
    for command in ("/pause", "/hurt", "/settings", "/mydata"):
        await evening.say(ana, command)
    for command in ("/people", "/attendance", "/digest"):
        await evening.say(ines, command)


def ids_in(evening: Evening) -> list[str]:
    """A few ids of every table."""
    found: dict[str, None] = {}
    for rows in evening.dump().values():
        for row in rows[:2]:
            found |= {each: None for each in row if isinstance(each, str) and ID.fullmatch(each)}
    return list(found)


def values(hint: Any, ids: list[str]) -> list[Any]:
    """What a field of this type may hold."""
    if hint is str:
        return [*ids, *WORDS]
    if isinstance(hint, type) and issubclass(hint, Enum):
        return list(hint)
    if hint in (int, float):
        return [hint(0), hint(1), hint(7)]
    if hint is bool:
        return [True, False]
    if hint is Question:
        return list(QUESTIONS[:3])
    if hint is type(None):
        return [None]
    if hint in MOMENTS:
        return [MOMENTS[hint]]
    if get_origin(hint) is tuple:
        return [()]
    return [each for part in get_args(hint) for each in values(part, ids)]


def made_of(kind: type[Button], ids: list[str], luck: random.Random) -> Iterator[str]:
    """Buttons of one kind that the bot can read, with these ids in them."""
    hints = get_type_hints(kind)
    choices = [values(hints[each.name], ids) for each in fields(kind)]
    combined: list[tuple[Any, ...]]
    if len(choices) == 1:
        combined = list(product(*choices))
    else:
        combined = [tuple(luck.choice(each) for each in choices) for _ in range(6_000)]
    for given in combined:
        try:
            data = kind(*given).write()
        except (AttributeError, TypeError, ValueError):
            continue  # such a button can't be made
        if len(data.encode()) <= 64 and kind.read(data) is not None:
            yield data


def some_of(kind: type[Button], ids: list[str]) -> list[str]:
    """As many of them as are tried, always the same ones for the same ids."""
    luck = random.Random(kind.kind)
    everything = sorted(set(made_of(kind, ids, luck)))
    assert everything, f"no {kind.__name__} can be made: add what it carries to WORDS"
    return luck.sample(everything, min(TRIED, len(everything)))


async def other_instructor(evening: Evening) -> Person:
    """Somebody who leads another group, and takes part in none."""
    olga = evening.api.person("Olga")
    olga.press_start()
    await evening.settle()
    async with evening.theatre.house.database.transaction() as tx:
        await tx.execute(
            """INSERT INTO person (id, account, name, language, met_at)
            SELECT 'olgaolgaolga', :account, 'Olga', 'en', met_at FROM person LIMIT 1""",
            account=olga.person_id,
        )
        await tx.execute(
            """INSERT INTO training_group (id, name, made_at, plan_id)
            SELECT 'tidetidetide', 'Tide Room', made_at, plan_id FROM training_group LIMIT 1"""
        )
        await tx.execute(
            """INSERT INTO leading (group_id, person_id, since)
            SELECT 'tidetidetide', 'olgaolgaolga', made_at FROM training_group LIMIT 1"""
        )
    return olga


async def former_member(evening: Evening) -> Person:
    """Somebody who was removed from the group."""
    gone = evening.api.person("Gone")
    gone.open_link(evening.link)
    await evening.settle()
    agree(gone)
    await evening.settle()
    async with evening.theatre.house.database.transaction() as tx:
        await tx.execute(
            """UPDATE membership SET left_at = agreed_at, removed_at = agreed_at
            WHERE person_id = (SELECT id FROM person WHERE account = :account)""",
            account=gone.person_id,
        )
    return gone


def test_every_kind_of_button_has_its_job() -> None:
    assert {kind.kind for kind in KINDS} == set(PRESSES)


@pytest.mark.long
async def test_no_button_made_of_any_ids_does_or_tells_anything(evening: Evening) -> None:
    await lively(evening)
    ids = ids_in(evening)  # before the others come, whose own ids may be theirs to use
    tried = {kind.kind: some_of(kind, ids) for kind in KINDS}
    stranger = evening.api.person("Stranger")
    people = [stranger, await other_instructor(evening), await former_member(evening)]
    before = evening.dump(*OWN)
    for person in people:
        for kind, found in tried.items():
            evening.theatre.clock.push(A_WHILE)
            since = len(person.messages)
            presses = [person.press_raw(1, data) for data in found]
            await evening.settle()
            for data, press in zip(found, presses, strict=True):
                assert press.answer is not None, data
                told = press.answer.text or ""
                assert not any(secret in told for secret in SECRETS), (person.name, data, told)
            said = " ".join(each.text for each in person.messages[since:])
            assert not any(secret in said for secret in SECRETS), (person.name, kind, said)
            assert said == "" or person is not stranger, (kind, said)
            assert evening.dump(*OWN) == before, (person.name, kind)


@pytest.mark.parametrize("command", sorted(COMMANDS))
async def test_no_command_tells_a_stranger_anything(evening: Evening, command: str) -> None:
    stranger, before = evening.api.person("Stranger"), evening.dump()
    said = await evening.say(stranger, f"/{command}")
    assert not any(secret in said.text for secret in SECRETS)
    assert evening.dump() == before
    assert evening.mentions(stranger) == []
