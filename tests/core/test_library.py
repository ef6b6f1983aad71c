"""The library is complete, in order, and says how well its numbers are known."""

from itertools import pairwise

import pytest

from core.library import Ladder, Mark, ladder, names
from core.movement import Measure
from core.names import readable

ALL = tuple(found for name in names() if (found := ladder(name)) is not None)

FORCES = {"hands on 60 cm": 0.41, "hands on 30 cm": 0.55, "feet on 30 cm": 0.70}
FORCES |= {"feet on 60 cm": 0.74, "floor": 0.64}
"""Peak force on the hands as a share of body mass (Ebben et al. 2011; values from memory)."""


def each_ladder() -> pytest.MarkDecorator:
    return pytest.mark.parametrize("found", ALL, ids=[each.name for each in ALL])


def demands(found: Ladder) -> dict[str, float]:
    return {each.name: each.demand for each in found.variations}


def test_there_are_at_least_25_movements_of_every_measure() -> None:
    assert len(names()) >= 25
    assert {each.measure for each in ALL} == set(Measure)
    assert list(names()) == sorted(names(), key=str.casefold)


def test_capital_letters_and_spaces_do_not_matter() -> None:
    assert ladder("  side  PLANK ") == ladder("Side plank")
    assert ladder("Side plank") is not None


def test_what_the_library_does_not_have_is_none() -> None:
    assert ladder("Levitation") is None


@each_ladder()
def test_a_ladder_goes_up_and_its_standard_has_demand_one(found: Ladder) -> None:
    assert demands(found)[found.standard] == 1.0
    assert all(low.demand < high.demand for low, high in pairwise(found.variations))
    assert 1 <= len(found.variations) <= 8
    assert len(demands(found)) == len(found.variations)


@each_ladder()
def test_amounts_make_sense(found: Ladder) -> None:
    assert 0 < found.smallest < found.largest
    assert 0 < found.step <= found.largest - found.smallest
    assert (found.load_step is not None) == (found.measure is Measure.LOAD)
    if found.measure in (Measure.REPS, Measure.LOAD):
        assert {found.smallest % 1, found.largest % 1, found.step % 1} == {0}
    if found.measure is Measure.LOAD:
        assert found.largest <= 12, "repetition formulas end there"


@each_ladder()
def test_names_are_fit_to_be_called_out_and_sources_are_named(found: Ladder) -> None:
    assert all(map(readable, (found.name, *demands(found))))
    for sentence in (found.about, found.source, found.caution or "None."):
        assert sentence.endswith((".", ")."))
    assert found.mark is not Mark.PRACTICE or "guessed" in found.source


def test_the_push_up_ladder_has_the_published_forces() -> None:
    """Knees over floor 0.81 (Mier et al. 2014); the rest in proportion to the forces above."""
    found = ladder("push-up")
    assert found is not None
    known = demands(found)
    assert known.pop("knees") == pytest.approx(0.566 / 0.703, abs=0.006)
    assert known == pytest.approx(
        {name: force / FORCES["floor"] for name, force in FORCES.items()}, abs=0.006
    )
