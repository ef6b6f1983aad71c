"""Tests of core.capacity: what answers do to beliefs, against independent computations."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
from scipy import stats
from scipy.special import lambertw

from core import people
from core.advice import advise, believe
from core.capacity import (
    Belief,
    begin,
    first_belief,
    laws,
    learn,
    outlook,
    sessions,
    take_in,
    wait,
)
from core.movement import Measure
from core.plan import Plan
from core.reports import Bout, Reports
from tests.simulation.histories import MONDAY, PLANKS, bout
from tests.simulation.plans import mixed
from tests.simulation.rooms import FIRST, Room, make_room
from tests.simulation.rules_of_thumb import engine

FOUR_OF_FIVE = 1.2816
LATER = MONDAY + timedelta(weeks=20)


def after(*bouts: Bout, plan: Plan = PLANKS) -> Belief:
    belief = first_belief(plan, ("Ana",))
    for session in sessions(Reports(bouts=bouts), LATER):
        belief = learn(belief, session)
    return belief


def posterior(amount: float) -> tuple[list[float], float]:
    """Mean of log strength after each rating of a finished hold, and the usual SD, on a grid.

    Somebody of log strength y just holds y exp(y) / k minutes (Ma et al. 2011).
    """
    before = first_belief(PLANKS, ("Ana",))
    view = outlook(before, before.frame.places[0])
    middle, sd = float(view.mean[0, 1]), float(view.sd[0, 1])
    strength = np.linspace(middle - 5 * sd, middle + 5 * sd, 601)[:, None]
    bias = np.linspace(-5, 5, 201)[None, :]
    day = before.frame.places[0].day_sd
    able = np.maximum(strength, 0.01)
    felt = np.minimum(people.HOLD_FATIGUE * amount / 6 / (able * np.exp(able)), 50)
    noise = np.sqrt(people.NEW_RATER_SD**2 + (felt * (1 + 1 / able) * day) ** 2)
    least = lambertw(people.HOLD_FATIGUE * amount / 60).real
    prior = (
        stats.norm.pdf(strength, middle, sd)
        * stats.norm.pdf(bias, 0, people.BIAS_SD)
        * stats.norm.cdf((strength - least) / day)
    )
    means, variances, chances = [], [], []
    for rating in range(11):
        own = (prior * stats.norm.pdf(rating, felt + bias, noise)).sum(axis=1)
        mean = float((own * strength[:, 0]).sum() / own.sum())
        means.append(mean)
        variances.append(float((own * (strength[:, 0] - mean) ** 2).sum() / own.sum()))
        chances.append(float(own.sum()))
    return means, float(np.sqrt(np.average(variances, weights=chances)))


@pytest.mark.parametrize(("effort", "amount"), [(7, 30), (5, 30), (8, 20), (4, 40), (6, 60)])
def test_one_rating_is_learned_as_a_brute_force_posterior_has_it(
    effort: int, amount: float
) -> None:
    """Against the product of prior and likelihood on a grid, with scipy's distributions.

    The spread is the one that is left on average: it doesn't depend on what was answered.
    """
    belief = after(bout(effort, amount))
    view = outlook(belief, belief.frame.places[0])
    means, sd = posterior(amount)
    assert view.mean[0, 1] == pytest.approx(means[effort], abs=0.02)
    assert view.sd[0, 1] == pytest.approx(sd, rel=0.2)


def test_an_unfinished_bout_says_nearly_exactly_what_is_possible() -> None:
    """The project's own rule: stopping short is maximal, whatever number was tapped."""
    belief = after(bout(4, 60, completed=42))
    view = outlook(belief, belief.frame.places[0])
    possible = laws.possible(Measure.HOLD, view.mean[:, 1], np.ones(1))
    assert possible[0] == pytest.approx(42, rel=0.03)
    assert view.sd[0, 1] < 0.1 * laws.per_log_amount(Measure.HOLD, 42)


def test_a_reserve_moves_the_bias_of_who_taps_too_high() -> None:
    """Reserve doesn't carry the rating bias: 9 with half as much again left is a high rater."""
    belief = after(bout(9, 30, reserve=20), bout(9, 30, reserve=20, week=1))
    assert belief.mean[0, -1] > 0.5


def test_an_answer_about_one_movement_informs_the_others() -> None:
    """Somebody strong in one movement is likely strong in others."""
    plan = mixed(4)
    easy = after(bout(2), plan=plan)
    hard = after(bout(10), plan=plan)
    for place in easy.frame.places:
        assert outlook(easy, place).mean[0, 0] > outlook(hard, place).mean[0, 0]


def test_a_slip_of_the_thumb_moves_a_settled_belief_little() -> None:
    """About one answer in twenty is a slip; its pull is bounded (Huber 1964)."""
    settled = [bout(7, week=week) for week in range(6)]
    without = after(*settled, bout(7, week=6))
    with_slip = after(*settled, bout(0, week=6))
    moved = with_slip.mean[0, 0] - without.mean[0, 0]
    assert 0 < moved < 0.2 * laws.per_log_amount(Measure.HOLD, 43)


def test_a_break_widens_a_belief_and_lowers_it() -> None:
    """Reduced work after two weeks or more away (Caterisano et al. 2019)."""
    belief = after(bout(7), bout(7, week=1))
    short = wait(belief, MONDAY + timedelta(weeks=2))
    long = wait(belief, MONDAY + timedelta(weeks=12))
    assert long.mean[0, 0] < short.mean[0, 0]
    assert long.cov[0, 0, 0] > short.cov[0, 0, 0]


def test_a_correction_gives_exactly_what_a_fresh_computation_gives() -> None:
    """A later answer about the same thing replaces the earlier one, to the last digit."""
    bouts = tuple(bout(5 + week % 4, week=week) for week in range(8))
    corrected = replace(bouts[3], effort=9.0, said_at=bouts[3].said_at + timedelta(days=1))
    history = take_in(begin(PLANKS, ("Ana",)), Reports(bouts=bouts).settled(), LATER)
    reports = Reports(bouts=(*bouts, corrected)).settled()
    fresh = take_in(begin(PLANKS, ("Ana",)), reports, LATER).latest
    again = take_in(history, reports, LATER)
    assert np.array_equal(again.latest.mean, fresh.mean)
    assert np.array_equal(again.latest.cov, fresh.cov)
    assert again.learned[2][1] is history.learned[2][1]  # what lies before it was not touched
    assert not np.array_equal(history.latest.mean, fresh.mean)


def test_nobody_changes_a_belief() -> None:
    """Values of core are frozen."""
    with pytest.raises(ValueError, match="read-only"):
        after(bout(7)).mean[0, 0] = 0.0


def test_the_order_of_members_and_answers_changes_nothing() -> None:
    """What was said counts, not who stands first in a list."""
    plan = mixed(3)
    bouts = tuple(
        bout(4 + number, week=week, member=name)
        for week in range(3)
        for number, name in enumerate(("Ana", "Bo", "Cy"))
    )
    turned = replace(plan, lines=plan.lines[::-1])
    one = believe(plan, Reports(bouts=bouts).settled(), ("Ana", "Bo", "Cy"), LATER)
    two = believe(turned, Reports(bouts=bouts[::-1]).settled(), ("Cy", "Ana", "Bo"), LATER)
    assert np.array_equal(one.mean, two.mean)
    assert np.array_equal(one.cov, two.cov)


def test_the_group_corrects_what_a_plan_demands_of_a_variation() -> None:
    """Ten people who find the easier variation as hard as the standard show that it is."""
    names = tuple(f"member {number}" for number in range(10))
    bouts = [bout(6, member=name) for name in names]
    bouts += [bout(6, member=name, week=1, variation="knees bent") for name in names]
    belief = believe(PLANKS, Reports(bouts=tuple(bouts)).settled(), names, LATER)
    place = belief.frame.places[0]
    assert outlook(belief, place).taken[0] > place.shifts[0] + 0.1


def test_true_capacity_lies_in_the_stated_interval_four_times_in_five() -> None:
    """In simulated rooms that train by the engine, at weeks 6 and 12; seeds fixed."""
    inside = []
    for seed in (1, 2, 3):
        room = make_room(mixed(), 40, seed, roll_call=True)
        for weeks in (6, 6):
            room.train(engine(), weeks)
            inside += _inside(room, FIRST + timedelta(weeks=room.weeks))
    assert 0.75 <= np.mean(inside) <= 0.85


def _inside(room: Room, on: date) -> list[bool]:
    """Whether each true strength on the variation that is suggested lies in its interval."""
    belief = believe(room.plan, room.reports.settled(), room.members, on)
    advice = advise(room.plan, room.reports, room.members, on)
    rows = {member: row for row, member in enumerate(belief.members)}
    found = []
    for each in advice.suggestions:
        place = belief.frame.place(each.movement)
        assert place is not None
        view = outlook(belief, place)
        at = rows[each.member], place.movement.rung(each.dose.variation)
        load = np.array([each.dose.load or 1.0])
        most = np.array([room.people[each.member].can_just_do(each.movement, each.dose)])
        true = laws.strength(place.measure, np.maximum(most, 0.5), load)[0]
        found.append(bool(abs(true - view.mean[at]) < FOUR_OF_FIVE * view.sd[at]))
    return found
