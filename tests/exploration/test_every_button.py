"""Every button of every message that anybody can get, in every order: none is a dead end.

Here so many presses deep as takes a minute for all; `python -m tests.benchmarks.every_button` goes
six deep.
"""

import pytest

from bot.buttons import KINDS, Button
from tests.exploration.ends import says_what_is_next
from tests.exploration.entries import ENTRIES
from tests.exploration.founding_entries import FOUNDING
from tests.exploration.leading_entries import LEADING
from tests.exploration.start import begun

EVERYBODY = ENTRIES | FOUNDING | LEADING
MET: set[type[Button]] = set()
"""Every kind of button that was met by the walks of this run."""


LONG_WALKS = (
    "asked about a hold",
    "asked about a load",
    "asked in the group chat too",
    "asked on 6 to 20 after some weeks",
    "asked again after an outage",
    "asked once more",
    "everything is said",
    "the next class has begun",
    "ratings and what was left have drifted apart",
    "/hurt in two groups",
    "/mydata, with old messages left behind",
    "/pause while on one",
    "/settings",
    "/variant in class",
    "a note on an alert",
    "the digest before class, with alerts",
    "who leads: two of them",
)
"""Walks that take longest: they belong to the long tests."""
WALKS = [
    pytest.param(name, marks=pytest.mark.long if name in LONG_WALKS else ())
    for name, each in EVERYBODY.items()
    if each.depth
]


@pytest.mark.parametrize("name", WALKS)
async def test_every_press_in_every_order_is_answered_and_leads_on(name: str) -> None:
    """Answered once, with something to see, no error within, and a way to where nothing waits."""
    entry = EVERYBODY[name]
    async with begun(entry) as explorer:
        found = await explorer.explore(entry.depth)
    MET.update(found.kinds)
    assert found.troubles == {}
    assert found.trapped == set()
    assert [end for end in found.ends if not says_what_is_next(end)] == []
    assert len(found.seen) >= entry.least
    assert found.presses >= len(found.seen) - 1


@pytest.mark.long
async def test_every_kind_of_button_is_met_on_some_walk() -> None:
    """A new kind needs an entry from which it is met; run alone, this looks only one step far."""
    met = set(MET)
    for entry in EVERYBODY.values():
        if met >= set(KINDS):
            break
        async with begun(entry) as explorer:
            met |= (await explorer.explore(2, most=30)).kinds
    assert set(KINDS) - met == set()


async def test_a_deeper_look_meets_all_that_a_shorter_one_did() -> None:
    async with begun(ENTRIES["/hurt"]) as explorer:
        shorter = await explorer.explore(2)
    async with begun(ENTRIES["/hurt"]) as explorer:
        deeper = await explorer.explore(3)
    assert len(shorter.seen) < len(deeper.seen)


async def test_where_nothing_more_can_be_met_nothing_is_however_deep_one_looks() -> None:
    async with begun(ENTRIES["/pause"]) as explorer:
        all_of_it = await explorer.explore(6)
    async with begun(ENTRIES["/pause"]) as explorer:
        deeper = await explorer.explore(9)
    assert all_of_it.exhausted
    assert len(all_of_it.seen) == len(deeper.seen)
