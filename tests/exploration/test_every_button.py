"""Every button of every message that a member can get, in every order: none is a dead end.

Here so many presses deep as takes a minute for all; `python -m tests.benchmarks.every_button` goes
six deep.
"""

import pytest

from tests.exploration.ends import says_what_is_next
from tests.exploration.entries import ENTRIES
from tests.exploration.exploring import Explorer, Found
from tests.exploration.scene import open_scene
from tests.journeys.plans import plan_text


async def explored(name: str, depth: int | None = None) -> Found:
    """Everything from that beginning."""
    entry = ENTRIES[name]
    async with open_scene(plan_text(movements=entry.movements)) as scene:
        await entry.prepare(scene)
        assert scene.still.log.found == []
        assert scene.still.line.refused == []
        return await Explorer(scene.still, scene.member).explore(depth or entry.depth)


@pytest.mark.parametrize("name", ENTRIES)
async def test_every_press_in_every_order_is_answered_and_leads_on(name: str) -> None:
    """Answered once, with something to see, no error within, and a way to where nothing waits."""
    found = await explored(name)
    assert found.troubles == {}
    assert found.trapped == set()
    assert [end for end in found.ends if not says_what_is_next(end)] == []
    assert len(found.seen) >= ENTRIES[name].least
    assert found.presses > len(found.seen)


async def test_a_deeper_look_meets_all_that_a_shorter_one_did() -> None:
    shorter, deeper = await explored("/hurt", 2), await explored("/hurt", 3)
    assert shorter.seen < deeper.seen


async def test_what_is_all_met_is_not_more_however_deep_one_looks() -> None:
    all_of_it, deeper = await explored("/pause", 6), await explored("/pause", 9)
    assert all_of_it.exhausted
    assert all_of_it.seen == deeper.seen
