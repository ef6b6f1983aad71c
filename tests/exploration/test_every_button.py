"""Every button of every message that a member can get, in every order: none is a dead end.

Here so many presses deep as takes a minute for all; `python -m tests.benchmarks.every_button` goes
six deep.
"""

from collections.abc import AsyncGenerator
from contextlib import asynccontextmanager

import pytest

from tests.exploration.ends import says_what_is_next
from tests.exploration.entries import ENTRIES
from tests.exploration.exploring import Explorer, Found
from tests.exploration.scene import Scene, open_scene
from tests.journeys.plans import plan_text


@asynccontextmanager
async def begun(name: str) -> AsyncGenerator[Scene]:
    """The member, where they begin."""
    entry = ENTRIES[name]
    async with open_scene(plan_text(movements=entry.movements)) as scene:
        await entry.prepare(scene)
        yield scene


async def explored(scene: Scene, depth: int) -> Found:
    """Everything from there, as if nothing had been tried before."""
    copied = scene.still.copy()
    found = await Explorer(scene.still, scene.member).explore(depth)
    scene.still.put_back(copied)
    return found


@pytest.mark.parametrize("name", ENTRIES)
async def test_every_press_in_every_order_is_answered_and_leads_on(name: str) -> None:
    """Answered once, with something to see, no error within, and a way to where nothing waits."""
    async with begun(name) as scene:
        assert scene.still.log.found == []
        assert scene.still.line.refused == []
        found = await explored(scene, ENTRIES[name].depth)
    assert found.troubles == {}
    assert found.trapped == set()
    assert [end for end in found.ends if not says_what_is_next(end)] == []
    assert len(found.seen) >= ENTRIES[name].least
    assert found.presses > len(found.seen)


async def test_a_deeper_look_meets_all_that_a_shorter_one_did() -> None:
    async with begun("/hurt") as scene:
        shorter, deeper = await explored(scene, 2), await explored(scene, 3)
    assert shorter.seen < deeper.seen


async def test_where_nothing_more_can_be_met_nothing_is_however_deep_one_looks() -> None:
    async with begun("/pause") as scene:
        all_of_it, deeper = await explored(scene, 6), await explored(scene, 9)
    assert all_of_it.exhausted
    assert all_of_it.seen == deeper.seen
