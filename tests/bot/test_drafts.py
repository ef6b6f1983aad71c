"""A plan in progress is kept as it is, obeys the rules of plan files, and becomes one."""

from dataclasses import replace
from datetime import UTC, datetime, time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.planfile import MOST_MOVEMENTS, Draft, PlanFile, difference, read_plan_file
from bot.planfile.draft import (
    changed_plan,
    draft_of,
    finished,
    is_right,
    problems_with,
    read_draft,
    write_draft,
)
from bot.planfile.editing import (
    aimed_at,
    first_dose,
    moved_to,
    with_day,
    with_dose,
    with_movement,
    without,
)
from bot.planfile.shelf import ladders_like
from bot.planfile.write import write_plan_file
from core import library
from core.library import Ladder
from core.movement import Measure
from tests.bot.test_planfile import plan_files, some_names

MONDAY = datetime(2026, 8, 31, 12, 0, tzinfo=UTC)


def known(name: str) -> Ladder:
    """A ladder that the library has."""
    found = library.ladder(name)
    assert found is not None
    return found


def with_all(*names: str) -> Draft:
    """A draft with these movements."""
    draft = Draft(name="Evening", days=(0, 3), clock=time(18, 30), minutes=50, timezone="UTC")
    for name in names:
        more = with_movement(draft, known(name))
        assert more is not None
        draft = more
    return draft


@st.composite
def drafts(draw: st.DrawFn) -> Draft:
    """Anything between nothing and a whole group."""
    plan = draw(plan_files()).plan
    return Draft(
        name=draw(st.none() | some_names),
        days=tuple(sorted(draw(st.sets(st.integers(0, 6))))),
        clock=draw(st.none() | st.times().map(lambda at: at.replace(second=0, microsecond=0))),
        minutes=draw(st.none() | st.integers(5, 600)),
        timezone=draw(st.none() | st.sampled_from(["Europe/Lisbon", "Asia/Kolkata"])),
        target=plan.target,
        ceiling=plan.ceiling,
        lines=draw(st.sampled_from([(), plan.lines])),
    )


@settings(max_examples=60, deadline=None)
@given(drafts())
def test_a_draft_is_read_as_it_was_kept(draft: Draft) -> None:
    assert read_draft(write_draft(draft)) == draft


@settings(max_examples=40, deadline=None)
@given(drafts())
def test_a_draft_becomes_a_plan_file_exactly_when_it_is_whole(draft: Draft) -> None:
    made = finished(draft, MONDAY)
    assert (made is not None) == draft.is_whole
    if made is not None:
        assert made.starts.weekday() in draft.days
        assert made.starts.time() == draft.clock
        assert read_plan_file(write_plan_file(made), "made") == made
        assert draft_of(made).lines == draft.lines


@pytest.mark.parametrize(
    ("zone", "clock", "first"),
    [
        ("UTC", time(12, 1), "2026-08-31 12:01:00"),
        ("UTC", time(12, 0), "2026-09-03 12:00:00"),
        ("Pacific/Auckland", time(18, 30), "2026-09-03 18:30:00"),
        ("Pacific/Honolulu", time(6, 0), "2026-08-31 06:00:00"),
    ],
)
def test_the_first_class_is_the_next_one_where_they_meet(
    zone: str, clock: time, first: str
) -> None:
    made = finished(replace(with_all("Wall sit"), timezone=zone, clock=clock), MONDAY)
    assert made is not None
    assert str(made.starts) == first


@pytest.mark.parametrize("name", library.names())
def test_every_movement_of_the_library_begins_with_a_dose_that_a_file_may_hold(name: str) -> None:
    draft = with_all(name)
    (line,) = draft.lines
    assert problems_with(line, draft) == ()
    dose = first_dose(line.movement)
    assert dose.variation == line.movement.standard
    assert (dose.load is not None) == (line.movement.measure is Measure.LOAD)
    assert (dose.amount / line.movement.step).is_integer()


@pytest.mark.parametrize(
    ("fields", "right"),
    [
        ({"minutes": 5}, True),
        ({"minutes": 4}, False),
        ({"minutes": True}, False),
        ({"timezone": "Europe/Atlantis"}, False),
        ({"name": "x" * 65}, False),
        ({"target": 8.5, "ceiling": 9.0}, True),
        ({"target": 9.0, "ceiling": 9.0}, False),
        ({"target": 0.5, "ceiling": 9.0}, False),
    ],
)
def test_the_rules_are_those_of_plan_files(fields: dict[str, object], right: bool) -> None:
    assert is_right(**fields) is right


def test_doses_that_a_file_may_not_hold_are_refused() -> None:
    draft = with_all("Side plank", "Goblet squat")
    plank, squat = (line.dose for line in draft.lines)
    assert with_dose(draft, "Side plank", replace(plank, amount=61)) is None
    assert with_dose(draft, "Side plank", replace(plank, sets=21)) is None
    assert with_dose(draft, "Side plank", replace(plank, load=20)) is None
    assert with_dose(draft, "Side plank", replace(plank, variation="upside down")) is None
    assert with_dose(draft, "Goblet squat", replace(squat, amount=7.5)) is None
    assert with_dose(draft, "Goblet squat", replace(squat, load=None)) is None
    assert with_dose(draft, "Wall sit", plank) is None
    changed = with_dose(draft, "Goblet squat", replace(squat, load=22.5))
    assert changed is not None
    assert changed.lines[1].dose.load == 22.5


def test_targets_go_along_with_the_class_unless_they_are_their_own() -> None:
    draft = with_all("Side plank", "Wall sit")
    own = aimed_at(draft, 6, "Wall sit")
    assert own is not None
    both = aimed_at(own, 7.5)
    assert both is not None
    assert [each.target for each in both.lines] == [7.5, 6]
    assert aimed_at(draft, 9) is None
    assert aimed_at(draft, 9, "Wall sit") is None


def test_movements_are_moved_and_taken_out_and_never_come_twice() -> None:
    draft = with_all("Side plank", "Wall sit", "Dead bug")
    again = with_movement(draft, known("Wall sit"))
    assert again == draft
    moved = moved_to(draft, "Dead bug", 0)
    assert moved is not None
    assert moved_to(moved, "Dead bug", 0) == moved, "twice is once"
    names = [line.movement.name for line in without(moved, "Wall sit").lines]
    assert names == ["Dead bug", "Side plank"]
    full = with_all(*library.names()[:MOST_MOVEMENTS])
    assert with_movement(full, known(library.names()[-1])) is None


def test_a_day_that_is_set_twice_is_set() -> None:
    draft = with_day(with_day(Draft(), 3, on=True), 3, on=True)
    assert draft.days == (3,)
    assert with_day(draft, 3, on=False).days == ()


@pytest.mark.parametrize(
    ("text", "first"),
    [
        ("plank", "Forearm plank"),
        ("SIDE", "Side leg raise"),
        ("push up", "Push-up"),
        ("heel taps", "Dead bug"),
        ("ergometer", "Rowing ergometer"),
        ("goblt squat", "Goblet squat"),
    ],
)
def test_the_library_is_searched_by_name_variation_and_what_it_is(text: str, first: str) -> None:
    assert ladders_like(text)[0].name == first


@pytest.mark.parametrize("text", ["", "   ", "quidditch", "<b>"])
def test_a_search_may_find_nothing(text: str) -> None:
    assert ladders_like(text) == ()


# --- what is different ---------------------------------------------------------------------------


@settings(max_examples=40, deadline=None)
@given(plan_files())
def test_a_plan_differs_in_nothing_from_itself(plan_file: PlanFile) -> None:
    assert difference(plan_file, plan_file).is_nothing
    assert changed_plan(plan_file, draft_of(plan_file)) == plan_file


@settings(max_examples=60, deadline=None)
@given(plan_files(), plan_files())
def test_whatever_differs_is_told(old: PlanFile, new: PlanFile) -> None:
    found = difference(old, new)
    assert found.is_nothing == (old == new)
    kept = {old_line.movement.name for old_line, _ in found.changed}
    assert kept.isdisjoint(line.movement.name for line in (*found.added, *found.removed))
    back = difference(new, old)
    assert (back.added, back.removed) == (found.removed, found.added)
