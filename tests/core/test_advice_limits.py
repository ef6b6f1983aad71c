"""Tests of what a suggestion never does, whatever was said: the limits of core.limits."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core import rules
from core.advice import advise
from core.movement import Measure
from core.plan import Plan
from core.reports import Bout, Reports, SessionRating, Symptom, SymptomKind
from core.suggestion import Change, ReasonKind, Suggestion
from tests.simulation.histories import MONDAY, bout, lift, next_time
from tests.simulation.plans import PUSH_UP, ROW, SIDE_PLANK, STEP_UP, line, mixed

CHECKED = settings(max_examples=40, deadline=None, derandomize=True)
LINES = (
    line(SIDE_PLANK, "feet stacked", 30),
    line(PUSH_UP, "knees", 10),
    line(ROW, "one arm", 10, 12),
    line(STEP_UP, "20 cm", 5),
)


def plan_of(number: int) -> Plan:
    return Plan(lines=(LINES[number],), minutes=50, target=7.0, ceiling=9.0)


@st.composite
def histories(draw: st.DrawFn) -> tuple[Plan, tuple[Bout, ...]]:
    """One to five classes of one movement, with doses that go up and down by steps."""
    plan = plan_of(draw(st.integers(0, 3)))
    the_line = plan.lines[0]
    movement, amount = the_line.movement, the_line.dose.amount
    bouts = []
    for week in range(draw(st.integers(1, 5))):
        short = draw(st.integers(0, 9)) == 0
        bouts.append(
            bout(
                float(draw(st.integers(1, 10))),
                amount,
                week=week,
                movement=movement.name,
                variation=the_line.dose.variation,
                load=the_line.dose.load,
                completed=amount - movement.step if short else None,
            )
        )
        amount += draw(st.sampled_from((-1, 0, 1))) * movement.step
        amount = min(max(amount, movement.smallest), movement.largest)
    return plan, tuple(bouts)


def not_harder(one: Suggestion, other: Suggestion, plan: Plan) -> bool:
    """Whether one is on a lower rung than the other, or on the same and no more of it."""
    rung = plan.lines[0].movement.rung
    mine, theirs = rung(one.dose.variation), rung(other.dose.variation)
    return mine < theirs or (mine == theirs and lift(one) <= lift(other) + 1e-9)


@CHECKED
@given(history=histories(), more=st.integers(1, 5))
def test_a_higher_rating_never_makes_it_harder(
    history: tuple[Plan, tuple[Bout, ...]], more: int
) -> None:
    """The project's own rule, for the last class, whatever came before."""
    plan, bouts = history
    last = bouts[-1]
    higher = replace(last, effort=min((last.effort or 0) + more, 10.0))
    assert not_harder(next_time(*bouts[:-1], higher, plan=plan), next_time(*bouts, plan=plan), plan)


@CHECKED
@given(history=histories(), reserve=st.integers(1, 10), less=st.integers(1, 10))
def test_a_smaller_reserve_never_makes_it_harder(
    history: tuple[Plan, tuple[Bout, ...]], reserve: int, less: int
) -> None:
    """The same for what was left."""
    plan, bouts = history
    more = replace(bouts[-1], completed=None, reserve=float(reserve))
    fewer = replace(more, reserve=float(max(reserve - less, 0)))
    assert not_harder(
        next_time(*bouts[:-1], fewer, plan=plan), next_time(*bouts[:-1], more, plan=plan), plan
    )


@CHECKED
@given(history=histories(), share=st.floats(0.1, 0.9))
def test_stopping_earlier_never_makes_it_harder(
    history: tuple[Plan, tuple[Bout, ...]], share: float
) -> None:
    """The same for what was completed."""
    plan, bouts = history
    done = bouts[-1].completed or bouts[-1].dose.amount
    shorter = replace(bouts[-1], completed=done * share)
    assert not_harder(
        next_time(*bouts[:-1], shorter, plan=plan), next_time(*bouts, plan=plan), plan
    )


@CHECKED
@given(history=histories())
def test_one_step_or_ten_percent_or_one_rung_at_most(
    history: tuple[Plan, tuple[Bout, ...]],
) -> None:
    """2 to 10 % for loads (ACSM position stand 2009); the single step is the project's own."""
    plan, bouts = history
    movement, last = plan.lines[0].movement, bouts[-1]
    dose = next_time(*bouts, plan=plan).dose
    done = last.completed if last.completed is not None else last.dose.amount
    up = movement.rung(dose.variation) - movement.rung(last.dose.variation)
    assert up <= rules.LARGEST_LADDER_STEP
    if up == 1:
        assert dose.amount <= done
    if up == 0 and movement.measure is not Measure.LOAD:
        assert dose.amount <= max(done * rules.LARGEST_RAISE, done + movement.step) or (
            dose.amount == movement.smallest  # there is nothing smaller
        )
    if movement.measure is Measure.LOAD:
        assert (dose.load or 0) <= max((last.dose.load or 0) * 1.1, (last.dose.load or 0) + 1)


@CHECKED
@given(history=histories())
def test_the_chance_to_pass_the_ceiling_stays_small_wherever_something_is_small_enough(
    history: tuple[Plan, tuple[Bout, ...]],
) -> None:
    """A rule in core.rules; at the easiest dose of all there is nothing left to take away."""
    plan, bouts = history
    said = next_time(*bouts, plan=plan)
    easiest = plan.lines[0].movement.ladder[0].name
    used = len({each.on for each in bouts}) >= rules.CLASSES_UNTIL_ACCUSTOMED
    small = rules.CHANCE_ONCE_ACCUSTOMED if used else rules.CHANCE_OVER_CEILING
    assert said.chance_over_ceiling <= small or (
        said.dose.variation == easiest and said.dose.amount == plan.lines[0].movement.smallest
    )


def test_who_says_nothing_is_led_on_once_they_are_used_to_training() -> None:
    """Beginners start lower (ACSM position stand 2009, from memory); the chances are our own."""
    silent = [bout(None, 30, week=week) for week in range(3)]
    newcomer, used = next_time(*silent[:2]), next_time(*silent)
    assert newcomer.dose.amount < 30
    assert newcomer.chance_over_ceiling <= rules.CHANCE_OVER_CEILING
    assert used.dose.amount > 30
    assert rules.CHANCE_OVER_CEILING < used.chance_over_ceiling <= rules.CHANCE_ONCE_ACCUSTOMED
    returning = next_time(*silent, days=28)
    assert returning.dose.amount < 30
    assert returning.chance_over_ceiling <= rules.CHANCE_OVER_CEILING


@pytest.mark.parametrize("last", [bout(10, 30), bout(9.5, 30), bout(6, 30, completed=25)])
def test_after_a_maximal_or_unfinished_bout_nothing_gets_harder(last: Bout) -> None:
    """The project's own safety rule: nothing, so the other movements don't either."""
    plan = Plan(lines=LINES[:2], minutes=50, target=7.0, ceiling=9.0)
    other = bout(1, 10, movement="Push-up", variation="knees")
    advice = advise(plan, Reports(bouts=(last, other)), ("Ana",), MONDAY + timedelta(weeks=1))
    assert all(each.change is not Change.HARDER for each in advice.suggestions)


def test_a_class_rated_as_maximal_makes_nothing_harder() -> None:
    """The same for the class as a whole."""
    easy = bout(1)
    whole = SessionRating(
        member="Ana", session=easy.session, on=easy.on, said_at=easy.said_at, effort=10.0
    )
    reports = Reports(bouts=(easy,), ratings=(whole,))
    assert next_time(easy, reports=reports).change is not Change.HARDER
    assert next_time(easy).change is Change.HARDER


@pytest.mark.parametrize("kind", [SymptomKind.PAIN, SymptomKind.WARNING])
@pytest.mark.parametrize("where", ["Side plank", None])
def test_pain_freezes_until_both_have_cleared_it(kind: SymptomKind, where: str | None) -> None:
    """The project's own safety rule: it takes the member and an instructor."""
    easy = bout(1)
    said = datetime(2026, 3, 3, 9, tzinfo=UTC)
    hurt = Symptom(member="Ana", kind=kind, on=easy.on, said_at=said, movement=where)
    half = replace(hurt, cleared_by_member=said)
    clear = replace(half, cleared_by_instructor=said)

    def told(symptom: Symptom) -> Suggestion:
        return next_time(easy, reports=Reports(bouts=(easy,), symptoms=(symptom,)))

    for symptom in (hurt, half):
        assert told(symptom).change is not Change.HARDER
        assert told(symptom).reason.kind is ReasonKind.PAIN
    assert told(clear).change is Change.HARDER


def test_soreness_freezes_nothing() -> None:
    """Dull, on both sides, fading within days (from memory)."""
    easy = bout(1)
    sore = Symptom(member="Ana", kind=SymptomKind.SORENESS, on=easy.on, said_at=easy.said_at)
    told = next_time(easy, reports=Reports(bouts=(easy,), symptoms=(sore,)))
    assert told.change is Change.HARDER


@CHECKED
@given(history=histories(), days=st.integers(14, 200))
def test_after_two_weeks_away_the_first_class_is_easier(
    history: tuple[Plan, tuple[Bout, ...]], days: int
) -> None:
    """Reduced work after two weeks or more (Caterisano et al. 2019)."""
    plan, bouts = history
    movement = plan.lines[0].movement
    told = next_time(*bouts, plan=plan, days=days)
    nothing_easier = (
        bouts[-1].dose.variation == movement.ladder[0].name
        and bouts[-1].dose.amount == movement.smallest
    )
    assert told.change is Change.EASIER or nothing_easier
    assert told.reason.kind is ReasonKind.BREAK


def test_silence_that_somebody_is_known_for_is_no_break_but_absence_is() -> None:
    """Who answers every second class was not away just because two answers are missing."""
    others = tuple(bout(7, week=week, member="Bo") for week in range(11))
    mine = tuple(bout(5, week=week) for week in (0, 2, 4, 6, 8))
    on = MONDAY + timedelta(weeks=11)
    silent = advise(plan_of(0), Reports(bouts=(*others, *mine)), ("Ana", "Bo"), on)
    assert silent.suggestions[0].reason.kind is ReasonKind.RATING
    absent = SessionRating(
        member="Ana",
        session="week 09",
        on=MONDAY + timedelta(weeks=9),
        said_at=datetime(2026, 5, 5, tzinfo=UTC),
        attended=False,
    )
    reports = Reports(bouts=(*others, *mine), ratings=(absent,))
    known = advise(plan_of(0), reports, ("Ana", "Bo"), on)
    assert known.suggestions[0].reason.kind is ReasonKind.BREAK


def test_who_is_unknown_starts_easier_than_planned() -> None:
    """The project's own rule, on every movement."""
    advice = advise(mixed(), Reports(), ("Ana",), MONDAY)
    assert len(advice.suggestions) == 6
    for each in advice.suggestions:
        assert each.change is Change.EASIER
        assert each.reason.kind is ReasonKind.NOT_KNOWN
