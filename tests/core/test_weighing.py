"""Tests of core.capacity.weighing: what sessions leave, against brute-force posteriors."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy import stats
from scipy.special import lambertw

from core import people
from core.capacity import Belief, first_belief, laws, learn, outlook, sessions, weighed
from core.capacity.points import points
from core.capacity.readings import normal_cdf
from core.plan import Plan
from core.reports import Bout, Reports, SessionRating
from tests.simulation.histories import MONDAY, PLANKS, bout
from tests.simulation.plans import PUSH_UP, ROW, SIDE_PLANK, SQUAT, WALL_SIT, line, mixed

Numbers = NDArray[np.float64]
LATER = MONDAY + timedelta(weeks=20)
ABLE = np.linspace(1e-3, 3.0, 1501)[:, None]
BIAS = np.linspace(-4.5, 4.5, 121)[None, :]


def after(*bouts: Bout, plan: Plan = PLANKS, whole: float | None = None) -> Belief:
    """What one member's answers leave, the last session weighed too."""
    ratings = () if whole is None else (rated(whole),)
    belief = first_belief(plan, ("Ana",))
    for session in sessions(Reports(bouts=bouts, ratings=ratings), LATER):
        belief = learn(belief, session)
    return weighed(belief)


def rated(effort: float) -> SessionRating:
    """The first class as a whole."""
    said = datetime(MONDAY.year, MONDAY.month, MONDAY.day, 20, tzinfo=UTC)
    return SessionRating(member="Ana", session="week 00", on=MONDAY, said_at=said, effort=effort)


def chance_of_rating(rating: int, meant: Numbers, sd: float) -> Numbers:
    """Of a normal number that is rounded and cut off at both ends; or else a slip, any of 11."""
    below = 0.0 if rating == 0 else stats.norm.cdf(rating - 0.5, meant, sd)
    above = 0.0 if rating == 10 else stats.norm.sf(rating + 0.5, meant, sd)
    return np.asarray(people.SLIPS / 11 + (1 - people.SLIPS) * (1 - below - above))


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """What was said of one hold."""

    rating: int
    reserve: float | None = None
    completed: float | None = None


SAYINGS = (
    (Said(rating=7), 30.0),
    (Said(rating=2), 30.0),
    (Said(rating=10), 40.0),
    (Said(rating=8, reserve=10.0), 30.0),
    (Said(rating=6, reserve=40.0), 20.0),
    (Said(rating=9, reserve=0.0), 45.0),
    (Said(rating=10, completed=24.0), 40.0),
)


def brute_force(said: Said, amount: float) -> tuple[float, float, float]:
    """Mean and SD of the log strength, and mean of the bias, on a grid.

    Somebody of log strength y just holds y exp(y) / k minutes (Ma et al. 2011); effort is linear in
    the share of the possible hold (Shepherd et al. 2013).
    """
    before = first_belief(PLANKS, ("Ana",))
    place = before.frame.places[0]
    view = outlook(before, place)
    middle, sd, day = float(view.mean[0, 1]), float(view.sd[0, 1]), place.day_sd
    most = 60 * ABLE * np.exp(ABLE) / people.HOLD_FATIGUE
    felt = np.minimum(10 * amount / most, 10.0)
    prior = stats.norm.pdf(ABLE, middle, np.hypot(sd, day)) * stats.norm.pdf(
        BIAS, 0, people.BIAS_SD
    )
    if said.completed is not None:
        seen = lambertw(people.HOLD_FATIGUE * said.completed / 60).real
        prior = prior * stats.norm.pdf(ABLE, seen, people.STOP_SD * place.per_amount)
        felt = np.full_like(felt, 10.0)
    else:
        prior = prior * np.where(most > amount, 1.0, people.SLIPS)
    if said.reserve is not None:
        prior = prior * chance_of_reserve(said.reserve, most - amount)
    chance = prior * chance_of_rating(said.rating, felt + BIAS, people.NEW_RATER_SD)
    chance /= chance.sum()
    mean = float((chance * ABLE).sum())
    spread = float((chance * (ABLE - mean) ** 2).sum())
    share = sd**2 / (sd**2 + day**2)  # what a day shows of the strength behind it
    return (
        middle + share * (mean - middle),
        float(np.sqrt(share**2 * spread + share * day**2)),
        float((chance * BIAS).sum()),
    )


def chance_of_reserve(said: float, left: Numbers) -> Numbers:
    """What people call is understated, and its error grows with what was left; or it's a slip."""
    unit = people.SECONDS_PER_REPETITION
    least, more = people.RESERVE_SD

    def even(repetitions: Numbers) -> Numbers:
        return np.log1p(more * np.maximum(repetitions, 0) / least) / more

    off = even(np.array([said / unit])) - even(left / unit - people.RESERVE_UNDERSTATED)
    return np.asarray(
        (1 - people.SLIPS) * stats.norm.pdf(off) + people.SLIPS * stats.norm.pdf(off, 0, 4)
    )


@pytest.mark.parametrize(("said", "amount"), SAYINGS)
def test_one_bout_leaves_what_a_brute_force_posterior_has(said: Said, amount: float) -> None:
    """Against prior times likelihood on a grid, with scipy's distributions."""
    of_it = bout(said.rating, amount, completed=said.completed, reserve=said.reserve)
    belief = after(of_it)
    view = outlook(belief, belief.frame.places[0])
    mean, sd, bias = brute_force(said, amount)
    assert view.mean[0, 1] == pytest.approx(mean, abs=0.05 * sd)
    assert view.sd[0, 1] == pytest.approx(sd, rel=0.05)
    assert belief.mean[0, -1] == pytest.approx(bias, abs=0.05)


HOLDS = Plan(
    lines=(line(SIDE_PLANK, "feet stacked", 30), line(WALL_SIT, "thighs level", 45)),
    minutes=50,
    target=7.0,
    ceiling=9.0,
)


def test_two_bouts_and_the_class_leave_what_a_million_samples_have() -> None:
    """Against the prior of both strengths and the bias, sampled, weighed by all that was said."""
    before = first_belief(HOLDS, ("Ana",))
    side, wall = before.frame.places
    belief = after(
        bout(5, 30, movement="Side plank"),
        bout(9, 45, movement="Wall sit", variation="thighs level", reserve=20),
        plan=HOLDS,
        whole=6,
    )
    luck = np.random.default_rng(1)
    shared = before.pull[0] @ before.group_cov @ before.pull[0].T
    behind = luck.multivariate_normal(before.mean[0], before.cov[0] + shared, size=1_000_000)
    today = np.maximum(
        behind[:, :2] + luck.normal(0, [side.day_sd, wall.day_sd], (1_000_000, 2)), 0.01
    )
    most = 60 * today * np.exp(today) / people.HOLD_FATIGUE
    felt = np.minimum(10 * np.array([30, 45]) / most, 10.0)
    bias = behind[:, -1]
    weight = np.where(most > np.array([30, 45]), 1.0, people.SLIPS).prod(axis=1)
    weight *= chance_of_rating(5, felt[:, 0] + bias, people.NEW_RATER_SD)
    weight *= chance_of_rating(9, felt[:, 1] + bias, people.NEW_RATER_SD)
    weight *= chance_of_reserve(20, most[:, 1] - 45)
    weight *= chance_of_rating(6, felt.mean(axis=1) + bias, people.CLASS_RATING_SD)
    weight /= weight.sum()
    means = weight @ behind
    sds = np.sqrt(weight @ (behind - means) ** 2)
    found = np.sqrt(np.diag(belief.cov[0] + belief.pull[0] @ belief.group_cov @ belief.pull[0].T))
    assert (belief.mean[0] - means) / sds == pytest.approx(np.zeros(len(means)), abs=0.06)
    assert found == pytest.approx(sds, rel=0.06)


def every_movement(effort: float, week: int = 0) -> tuple[Bout, ...]:
    """A class of six in which everything was told of."""
    return tuple(
        replace(
            bout(effort, of.dose.amount, week=week, movement=of.movement.name),
            dose=of.dose,
        )
        for of in mixed().lines
    )


def test_more_answers_than_are_weighed_at_once_are_all_taken_in() -> None:
    """Six movements found easy leave somebody stronger in each than the same six found hard."""
    easy, hard = after(*every_movement(4), plan=mixed()), after(*every_movement(9), plan=mixed())
    first = first_belief(mixed(), ("Ana",))
    for place in first.frame.places:
        before, strong, weak = (outlook(each, place) for each in (first, easy, hard))
        assert strong.mean[0, 0] > before.mean[0, 0] > weak.mean[0, 0]
        assert max(strong.sd[0, 0], weak.sd[0, 0]) < before.sd[0, 0]


def test_a_slip_of_the_thumb_is_nearly_forgotten_once_it_is_weighed() -> None:
    """One answer in twenty is a slip; a 0 of who usually taps 7 is taken for one."""
    settled = [bout(7, week=week) for week in range(6)]
    without, slipped = after(*settled, bout(7, week=6)), after(*settled, bout(0, week=6))
    off = after(*settled, bout(4, week=6))
    moved = [float(each.mean[0, 0] - without.mean[0, 0]) for each in (slipped, off)]
    assert abs(moved[0]) < 0.03 * laws.per_log_amount(SIDE_PLANK.measure, 43)
    assert moved[1] > 0


def test_what_is_shown_of_the_last_class_is_near_what_is_left_of_it() -> None:
    """That no worse answer makes anything harder costs little, and the next class makes it good."""
    bouts = [bout(8, 30, week=week, reserve=10) for week in range(3)]
    belief = first_belief(PLANKS, ("Ana",))
    for session in sessions(Reports(bouts=tuple(bouts)), LATER):
        belief = learn(belief, session)
    place = belief.frame.places[0]
    shown, left = outlook(belief, place), outlook(weighed(belief), place)
    assert belief.recent is not None
    assert weighed(belief).recent is None
    assert shown.mean[0, 1] == pytest.approx(left.mean[0, 1], abs=0.5 * float(left.sd[0, 1]))


def test_the_group_learns_from_a_weighed_class_too() -> None:
    """Ten who find the plan easy make an eleventh, who said nothing, look stronger."""
    names = tuple(f"member {number}" for number in range(11))
    bouts = tuple(bout(3, member=each, reserve=30) for each in names[:10])
    belief = first_belief(PLANKS, names)
    for session in sessions(Reports(bouts=bouts), LATER):
        belief = weighed(learn(belief, session))
    before = first_belief(PLANKS, names)
    place = belief.frame.places[0]
    assert outlook(belief, place).mean[-1, 1] > outlook(before, place).mean[-1, 1] + 0.05
    assert outlook(belief, place).sd[-1, 1] < outlook(before, place).sd[-1, 1]


LINES = (
    line(ROW, "one arm", 10, 12),
    line(PUSH_UP, "knees", 10),
    line(SQUAT, "half", 14),
)


@pytest.mark.parametrize("of", LINES, ids=lambda of: of.movement.name)
@pytest.mark.parametrize(
    "worse", [lambda said: replace(said, effort=9.0), lambda said: replace(said, reserve=1.0)]
)
def test_less_left_or_a_higher_rating_leaves_somebody_weaker(
    of: object, worse: Callable[[Bout], Bout]
) -> None:
    """On the movement told of, once weighed, for loads and repetitions too."""
    plan = replace(mixed(), lines=(of,))  # type: ignore[arg-type]
    dose = plan.lines[0].dose
    said = replace(
        bout(7, dose.amount, movement=plan.lines[0].movement.name), dose=dose, reserve=4.0
    )
    strong, weak = after(said, plan=plan), after(worse(said), plan=plan)
    rung = plan.lines[0].movement.rung(dose.variation)
    place = strong.frame.places[0]
    assert outlook(weak, place).mean[0, rung] < outlook(strong, place).mean[0, rung]


@pytest.mark.parametrize("dimensions", [1, 2, 3, 5])
def test_the_points_stand_evenly_around_zero(dimensions: int) -> None:
    """Weighed by a normal density over their own they have its mean and covariance."""
    at, density = points(dimensions)
    share = np.exp(-0.5 * (at**2).sum(axis=1) - density)
    share /= share.sum()
    assert share @ at == pytest.approx(np.zeros(dimensions), abs=1e-12)
    assert (at.T * share) @ at == pytest.approx(np.eye(dimensions), abs=0.15)


def test_the_chance_below_a_number_is_that_of_a_normal_distribution() -> None:
    """Against scipy's, to six digits; it never falls."""
    values = np.linspace(-9, 9, 20001)
    assert normal_cdf(values) == pytest.approx(stats.norm.cdf(values), abs=1e-6)
    assert (np.diff(normal_cdf(values)) >= 0).all()
