"""A plan file is read strictly, every mistake is named, and what is written reads back."""

from datetime import datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.errors import BadInput
from bot.planfile import PlanFile, read_plan_file, write_plan_file
from core.library import ladder, names
from core.movement import Dose, Measure, Movement, Variation
from core.names import readable
from core.plan import Plan, PlanLine

GROUP = """\
[group]
name = "Harbour Hall strength"
timezone = "Europe/Lisbon"
starts = 2026-09-03T18:30:00
rrule = "FREQ=WEEKLY;BYDAY=TH"
minutes = 50
"""
SIDE_PLANK = """
[[movement]]
name = "Side plank"
measure = "hold"
standard = "feet stacked"
plan = { variation = "knees bent", amount = 30, sets = 2 }
range = [10, 60]
step = 5
[[movement.variation]]
name = "knees bent"
demand = 0.6
[[movement.variation]]
name = "feet stacked"
demand = 1.0
"""
PRESS = """
[[movement]]
name = "Press"
measure = "load"
standard = "standing"
plan = { variation = "standing", amount = 8, load = 20 }
range = [4, 12]
step = 1
load_step = 2.5
[[movement.variation]]
name = "standing"
demand = 1.0
"""
WALL_SIT = '\n[[movement]]\nlibrary = "wall sit"\nplan = { variation = "halfway", amount = 30 }\n'


def problems(text: str | bytes) -> list[str]:
    with pytest.raises(BadInput) as refused:
        read_plan_file(text, "plan.toml")
    return [str(each).removeprefix("plan.toml, ") for each in refused.value.problems]


def test_a_plan_file_is_read_with_its_defaults() -> None:
    found = read_plan_file(GROUP + SIDE_PLANK, "plan.toml")
    assert (found.name, found.timezone) == ("Harbour Hall strength", "Europe/Lisbon")
    assert found.starts == datetime.fromisoformat("2026-09-03T18:30")
    assert (found.prompt_after, found.digest_before) == (10, 60)
    assert (found.plan.target, found.plan.ceiling, found.plan.minutes) == (7, 9, 50)
    (line,) = found.plan.lines
    assert line.dose == Dose(variation="knees bent", amount=30, sets=2)
    assert line.movement.ladder[0] == Variation(name="knees bent", demand=0.6)
    assert (line.movement.smallest, line.movement.largest, line.movement.step) == (10, 60, 5)


def test_a_library_ladder_stands_in_for_variations() -> None:
    (line,) = read_plan_file(GROUP + WALL_SIT, "plan.toml").plan.lines
    known = ladder("Wall sit")
    assert known is not None
    assert line.movement.name == "Wall sit"
    assert line.movement.ladder == known.variations
    assert line.movement.standard == known.standard


def test_what_is_said_beside_a_library_ladder_counts() -> None:
    text = GROUP + WALL_SIT + 'name = "Chair at the wall"\nrange = [15, 45]\nstep = 15\n'
    (line,) = read_plan_file(text, "plan.toml").plan.lines
    assert line.movement.name == "Chair at the wall"
    assert (line.movement.smallest, line.movement.largest, line.movement.step) == (15, 45, 15)


def test_a_movement_may_have_its_own_target() -> None:
    text = GROUP + WALL_SIT + "target = 6\nceiling = 8\n" + SIDE_PLANK
    lines = read_plan_file(text, "plan.toml").plan.lines
    assert [(each.target, each.ceiling) for each in lines] == [(6, 8), (7, 9)]


def test_a_byte_order_mark_and_bytes_are_taken() -> None:
    text = GROUP + SIDE_PLANK
    assert read_plan_file(b"\xef\xbb\xbf" + text.encode(), "x") == read_plan_file(text, "x")


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ('"Europe/Lisbon"', '"Europe/Lisbn"', '[group] timezone: "Europe/Lisbn"; expected an IANA'),
        ("minutes = 50", "minuts = 50", "[group] minuts: unknown key; expected minutes"),
        ("minutes = 50", "", "[group] minutes: missing; expected a whole number of minutes"),
        ("minutes = 50", "minutes = true", "[group] minutes: True; expected a whole number"),
        ("minutes = 50", "minutes = 50.5", "[group] minutes: 50.5; expected a whole number"),
        ("18:30:00", "18:30:00Z", "[group] starts: 2026-09-03 18:30:00+00:00; expected a local"),
        ("2026-09-03", "2026-09-04", "[group] starts: Friday 04 September 2026; expected a day"),
        ("FREQ=WEEKLY", "FREQ=HOURLY", '[group] rrule: "FREQ=HOURLY"; expected FREQ=WEEKLY or'),
        ("minutes = 50", "minutes = 50\ntarget = 9.0", "[group] target: target 9 with ceiling 9;"),
        ("Harbour", "Harb\\u202eour", '[group] name: "Harbour Hall strength"; expected a name'),
        ("Harbour", "H" * 64, "[group] name: "),
        ('"hold"', '"holds"', 'movement 1 "Side plank", measure: "holds"; expected "hold", "reps"'),
        (
            "amount = 30",
            "amount = 5",
            'movement 1 "Side plank", plan.amount: 5; expected an amount',
        ),
        (
            "amount = 30",
            'amount = "30"',
            'movement 1 "Side plank", plan.amount: "30"; expected a n',
        ),
        ('"knees bent", am', '"knee bent", am', ', plan.variation: "knee bent"; expected "knees b'),
        ('standard = "feet', 'standard = "foot', ', standard: "foot stacked"; expected "feet st'),
        ("step = 5", "step = 0", 'movement 1 "Side plank", step: 0; expected a number above 0'),
        ("step = 5", "step = nan", 'movement 1 "Side plank", step: nan; expected a number above'),
        ("step = 5", "step = 0.01", ", step: 0.01; expected a step that divides the range"),
        ("[10, 60]", "[60, 10]", ", range: [60.0, 10.0]; expected the smaller number first"),
        ("[10, 60]", "[10]", ", range: [10]; expected two numbers above 0"),
        (
            "demand = 0.6",
            "demand = 1.2",
            ', variation: "feet stacked" after "knees bent"; expected',
        ),
        ("demand = 0.6", "demand = -1", ", variation 1, demand: -1; expected a number above 0"),
        ("demand = 1.0", "demand = 1.1", ', demand: 1.1 for "feet stacked"; expected 1.0'),
        ('name = "knees bent"', 'name = "Feet stacked"', ', variation: "feet stacked" twice;'),
        ("sets = 2", "load = 5", ', plan.load: 5; expected none, since the measure is "hold"'),
        ("sets = 2", "sets = 0", ", plan.sets: 0; expected a whole number from 1 to 20"),
        ("[group]", "[grup]", "grup: unknown key; expected group"),
    ],
)
def test_each_mistake_is_named_by_field_with_what_was_expected(
    old: str, new: str, told: str
) -> None:
    text = GROUP + SIDE_PLANK
    assert old in text
    assert any(told in each for each in problems(text.replace(old, new, 1)))


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        (
            ", load = 20",
            "",
            ', plan.load: missing; expected kilograms, since the measure is "load"',
        ),
        ("load_step = 2.5\n", "", ", load_step: missing; expected kilograms"),
        ("amount = 8", "amount = 8.5", ", plan.amount: 8.5; expected whole repetitions"),
    ],
)
def test_a_load_needs_its_kilograms_and_whole_repetitions(old: str, new: str, told: str) -> None:
    assert any(told in each for each in problems(GROUP + PRESS.replace(old, new)))


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (
            WALL_SIT.replace("wall sit", "wal sit"),
            'library: no ladder of this name; expected "Wall',
        ),
        (WALL_SIT.replace('"wall sit"', "3"), "library: not a name; expected a name in quotes"),
        (WALL_SIT + 'measure = "reps"\n', 'measure: not that of the ladder; expected "hold"'),
        (
            WALL_SIT + '[[movement.variation]]\nname = "a"\ndemand = 1.0\n',
            "library: variations stand beside it",
        ),
    ],
)
def test_mistakes_about_the_library_are_named(text: str, told: str) -> None:
    assert any(told in each for each in problems(GROUP + text))


def test_all_mistakes_are_told_at_once() -> None:
    text = GROUP.replace("50", "5000") + SIDE_PLANK.replace("step = 5", "stp = 5") + PRESS * 2
    told = problems(text)
    assert [each.split(":")[0] for each in told] == [
        "[group] minutes",
        'movement 1 "Side plank", step',
        'movement 1 "Side plank", stp',
        "movement",
    ]
    assert told[-1] == 'movement: "Press" twice; expected each movement once'


def test_what_does_not_fit_together_is_told_beside_wrong_fields() -> None:
    text = (
        GROUP.replace("= 50", '= "fifty"\ntarget = 9.5')
        .replace("FREQ=WEEKLY;BYDAY=TH", "FREQ=YEARLY")
        .replace("Europe/", "Europa/")
    )
    assert [each.split(":")[0] for each in problems(text + SIDE_PLANK)] == [
        "[group] timezone",
        "[group] minutes",
        "[group] target",
        "[group] rrule",
    ]


def test_a_start_that_does_not_fit_its_rule_is_told_beside_wrong_fields() -> None:
    text = GROUP.replace("2026-09-03", "2026-09-04").replace("minutes = 50", "minutes = 0")
    assert [each.split(":")[0] for each in problems(text + SIDE_PLANK)] == [
        "[group] minutes",
        "[group] starts",
    ]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("[group]\nname == 3\n", "line 2: Invalid value; expected TOML"),
        ("a = [", "last line: Invalid value; expected TOML"),
        (b"\xff", "plan.toml: byte 1 is not UTF-8; expected UTF-8 text"),
        ("a = " + "[" * 100_000, "plan.toml: brackets nested too deep; expected TOML"),
        ("a = " + "9" * 5000, "last line: "),
        ("#" * 300_000, "plan.toml: 292 KB; expected a plan file of at most 256 KB"),
        (GROUP, "movement: none found; expected 1 to 12 [[movement]] tables"),
        (GROUP + SIDE_PLANK * 13, "movement: 13 tables; expected 1 to 12 [[movement]] tables"),
        ("group = 3\nmovement = [1]\n", "[group]: 3; expected a table"),
    ],
)
def test_what_is_no_plan_file_at_all_is_told_in_one_line(text: str | bytes, told: str) -> None:
    assert any(each.startswith(told) for each in problems(text))


@settings(max_examples=50)
@given(st.binary(max_size=300) | st.text(max_size=300))
def test_anything_may_be_sent_and_nothing_but_a_refusal_comes_of_it(text: str | bytes) -> None:
    assert problems(text)


some_names = st.text(min_size=1, max_size=20).filter(readable)
efforts = st.sampled_from([(5.0, 8.0), (7.0, 9.0), (6.5, 8.5)])


@st.composite
def movements(draw: st.DrawFn, name: str) -> tuple[Movement, Dose]:
    measure = draw(st.sampled_from(Measure))
    rungs = draw(st.lists(some_names, min_size=1, max_size=4, unique_by=str.casefold))
    standard = draw(st.sampled_from(rungs))
    place = rungs.index(standard)
    ladder = tuple(Variation(name=each, demand=2.0 ** (i - place)) for i, each in enumerate(rungs))
    load = draw(st.floats(1, 200)) if measure is Measure.LOAD else None
    movement = Movement(
        name=name,
        measure=measure,
        ladder=ladder,
        standard=standard,
        smallest=draw(st.integers(1, 10)),
        largest=draw(st.integers(11, 60)),
        step=draw(st.integers(1, 5)),
        load_step=None if load is None else draw(st.sampled_from([0.5, 1.25, 2.5])),
    )
    dose = Dose(variation=draw(st.sampled_from(rungs)), amount=10, load=load, sets=2)
    return movement, dose


@st.composite
def plan_files(draw: st.DrawFn) -> PlanFile:
    target, ceiling = draw(efforts)
    lines = []
    for name in draw(st.lists(some_names, min_size=1, max_size=3, unique_by=str.casefold)):
        movement, dose = draw(movements(name))
        own_target, own_ceiling = draw(efforts)
        lines.append(PlanLine(movement=movement, dose=dose, target=own_target, ceiling=own_ceiling))
    return PlanFile(
        name=draw(some_names),
        timezone=draw(st.sampled_from(["Europe/Lisbon", "America/Santiago"])),
        starts=datetime.fromisoformat("2026-09-03T18:30:00"),
        rrule=draw(st.sampled_from(["FREQ=WEEKLY;BYDAY=TH", "FREQ=DAILY;COUNT=5"])),
        minutes=50,
        prompt_after=draw(st.integers(0, 60)),
        digest_before=draw(st.integers(0, 600)),
        plan=Plan(lines=tuple(lines), minutes=50, target=target, ceiling=ceiling),
    )


@settings(max_examples=60)
@given(plan_files())
def test_what_is_written_reads_back(plan_file: PlanFile) -> None:
    assert read_plan_file(write_plan_file(plan_file), "plan.toml") == plan_file


def test_a_written_library_ladder_no_longer_needs_the_library() -> None:
    plan_file = read_plan_file(GROUP + WALL_SIT, "plan.toml")
    text = write_plan_file(plan_file)
    assert "library" not in text
    assert read_plan_file(text, "plan.toml") == plan_file


def test_every_ladder_of_the_library_makes_a_plan() -> None:
    for name in names():
        known = ladder(name)
        assert known is not None
        load = ", load = 20" if known.load_step else ""
        dose = f'{{ variation = "{known.standard}", amount = {known.smallest}{load} }}'
        text = f'{GROUP}\n[[movement]]\nlibrary = "{name.upper()}"\nplan = {dose}\n'
        (line,) = read_plan_file(text, name).plan.lines
        assert line.movement.name == known.name
