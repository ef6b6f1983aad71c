"""Trouble of every kind befalls a class in its best hour, and all gets well by itself."""

from pathlib import Path

import pytest

from tests.campaigns.ordeal import Kind, open_ordeal, prepare_class, undergo
from tests.campaigns.troubles import KINDS
from tests.journeys.prepared import Prepared

SHORT = ("all of it at once", "disk full")
"""Those of which each stands for others; `python -m tests.benchmarks.faults` has them all."""
PREPARED: list[Prepared] = []


@pytest.fixture
async def prepared(tmp_path_factory: pytest.TempPathFactory) -> Prepared:
    """A class that has just ended; what came before is played once."""
    if not PREPARED:
        PREPARED.append(await prepare_class(tmp_path_factory.mktemp("class")))
    return PREPARED[0]


@pytest.mark.parametrize(
    "kind",
    [
        pytest.param(each, id=each.name, marks=() if each.name in SHORT else pytest.mark.long)
        for each in KINDS
        if not each.real
    ],
)
async def test_afterwards_nothing_is_lost_or_doubled_and_nothing_told_that_must_not_be(
    tmp_path: Path, prepared: Prepared, kind: Kind
) -> None:
    async with open_ordeal(tmp_path / "class", prepared, 20260903) as ordeal:
        found = await undergo(ordeal, kind)
    assert found.clean, (found, ordeal.supervised.journal.getvalue())
    assert found.truth.said > 0, "nobody had time to answer: the test says nothing"
