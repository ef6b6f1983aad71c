"""How a class was felt, and another plan for the whole room only where that is sure."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import numpy as np
import pytest
from scipy.special import lambertw

from core.advice import advise_from, believe
from core.movement import Dose, Measure
from core.pitch import MOST_ROOM_ADVICE, RoomAdvice, for_the_room, pitch_of
from core.plan import Plan
from core.reports import Bout, Reports, SessionRating
from tests.simulation.plans import PUSH_UP, SIDE_PLANK, WALL_SIT, line, mixed

ON = date(2026, 3, 2)
SAID = datetime(2026, 3, 2, 20, tzinfo=UTC)
MEMBERS = tuple(f"member {number}" for number in range(12))


def rated(member: str, effort: float | None) -> SessionRating:
    """One rating of the whole class."""
    return SessionRating(member=member, session="s", on=ON, said_at=SAID, effort=effort)


@pytest.mark.parametrize(
    ("efforts", "median", "low", "high", "in_range"),
    [
        ([5, 7, 8, 9], 7.5, 5, 9, 2),
        ([5, 6, 7, 8, 9], 7, 6, 8, 3),
        ([7], 7, 7, 7, 1),
        ([], None, None, None, 0),
    ],
)
def test_the_pitch_has_a_middle_and_the_half_around_it(
    efforts: list[float],
    median: float | None,
    low: float | None,
    high: float | None,
    in_range: int,
) -> None:
    ratings = tuple(rated(str(at), effort) for at, effort in enumerate(efforts))
    pitch = pitch_of(Reports(ratings=ratings), on=ON, target=7, asked=10)
    assert (pitch.median, pitch.low, pitch.high, pitch.in_range) == (median, low, high, in_range)
    assert (pitch.asked, pitch.answered) == (10, len(efforts))


def test_more_answers_than_questions_are_no_less_than_all() -> None:
    """Who joined later, or tapped in the group's chat, wasn't asked."""
    pitch = pitch_of(Reports(ratings=(rated("a", 7), rated("b", 7))), on=ON, target=7, asked=1)
    assert pitch.asked == 2


def bouts(plan: Plan, effort: float, classes: int = 4) -> Reports:
    """Everybody does what is planned, and rates all of it the same, for some classes."""
    done = tuple(
        Bout(
            member=member,
            session=f"class {week}",
            on=ON + timedelta(weeks=week),
            said_at=SAID + timedelta(weeks=week),
            movement=each.movement.name,
            dose=each.dose,
            effort=effort,
        )
        for week in range(classes)
        for member in MEMBERS
        for each in plan.lines
    )
    return Reports(bouts=done).settled()


def advised(plan: Plan, reports: Reports) -> tuple[RoomAdvice, ...]:
    """What is proposed for the whole room a week after the last class."""
    on = ON + timedelta(weeks=4)
    belief = believe(plan, reports, MEMBERS, on)
    advice = advise_from(belief, plan, reports, MEMBERS, on)
    found = for_the_room(belief, plan, advice)
    for each in found:
        told = [e.dose for e in advice.suggestions if e.movement == each.line.movement.name]
        assert each.instead in told
    return found


@pytest.mark.parametrize("of", [line(SIDE_PLANK, "feet stacked", 30), line(PUSH_UP, "knees", 10)])
def test_what_everybody_finds_too_hard_is_planned_easier_and_too_easy_harder(of: object) -> None:
    plan = replace(mixed(), lines=(of,))  # type: ignore[arg-type]
    (easier,), (harder,) = advised(plan, bouts(plan, 9.5)), advised(plan, bouts(plan, 3))
    planned, movement = plan.lines[0].dose, plan.lines[0].movement

    def work(dose: Dose) -> float:
        """The force it takes of the same person: of whom could lift a weight once (Epley 1985, from
        memory), or of whom could hold on for 10/7 of the time (Ma et al. 2011)."""
        if movement.measure is Measure.REPS:
            return movement.demand(dose.variation) * (1 + dose.amount / 30)
        minutes = dose.amount * 10 / 7 / 60
        return movement.demand(dose.variation) * float(np.exp(lambertw(0.96 * minutes).real))

    assert easier.felt > plan.target > harder.felt
    assert work(easier.instead) < work(planned) < work(harder.instead)


def test_a_plan_that_fits_is_left_alone() -> None:
    plan = mixed()
    assert advised(plan, bouts(plan, 7, classes=1)) == ()


def test_nothing_is_proposed_before_half_of_the_room_has_answered() -> None:
    plan = replace(mixed(), lines=(line(WALL_SIT, "thighs level", 45),))
    few = tuple(each for each in bouts(plan, 10).bouts if each.member in MEMBERS[:5])
    assert advised(plan, Reports(bouts=few)) == ()
    assert advised(plan, Reports()) == ()


def test_only_what_is_worst_pitched_is_told() -> None:
    plan = mixed()
    cut = tuple(replace(e, completed=e.dose.amount // 2) for e in bouts(plan, 9.5).bouts)
    found = advised(plan, Reports(bouts=cut))
    off = [abs(each.felt - plan.target) for each in found]
    assert len(found) == MOST_ROOM_ADVICE
    assert off == sorted(off, reverse=True)
