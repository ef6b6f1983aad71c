"""What a room could have at best by three options, called by who knows every capacity."""

from datetime import date

import numpy as np

from core import rules
from core.capacity.readings import normal_cdf
from core.doses import Doses, Numbers, doses
from core.limits import Mask, allowed
from core.movement import Dose, Measure
from core.options import choose
from core.plan import PlanLine
from core.reaching import lost_later
from core.record import records
from demo_script.bodies import Law, can_just_do
from demo_script.people import SimulatedMember
from tests.simulation.rooms import Room, Rule, Told
from tests.simulation.rules_of_thumb import in_turn

DAYS = np.linspace(-2.4, 2.4, 7)
"""Better and worse days, in standard deviations, between which effort is interpolated."""
ABOVE_ALL = 50.0
"""Loss of a dose that is over the ceiling, taken only where the limits leave nothing else."""


def three_options(*, limits: bool) -> Rule:
    """Each class the three options that lose least in truth; nobody is over their ceiling.

    With the limits of what one class may change, looking ahead as the engine does; or without.
    """

    def tell(room: Room, on: date) -> Told:
        found = {}
        for line in room.plan.lines:
            offered = doses(line)
            loss, over = _lost(room, line, offered)
            if limits:
                loss = loss + lost_later(line, np.where(over, 5.0, loss))
            mask = _limits(room, line, offered, on) if limits else np.ones_like(over)
            choice = choose(np.where(mask, loss + ABOVE_ALL * over, np.inf))
            for member, at in zip(room.members, choice.assigned, strict=True):
                found[member, line.movement.name] = offered.dose(at)
        return Told(doses=found, asked=in_turn(room))

    return tell


def _limits(room: Room, line: PlanLine, offered: Doses, on: date) -> Mask:
    name = line.movement.name
    variations = {name: frozenset(each.name for each in line.movement.ladder)}
    history = records(room.reports.settled(), room.members, variations, on)
    return np.array([allowed(line, offered, history[member, name]) for member in room.members])


def _lost(room: Room, line: PlanLine, offered: Doses) -> tuple[Numbers, Mask]:
    """Chance in range lost against each member's best, and what is over the ceiling."""
    people = tuple(room.people.values())
    efforts = np.stack([_efforts(people, line, offered, float(day)) for day in DAYS])
    high, low = line.target + rules.HALF_RANGE, line.target - rules.HALF_RANGE
    off = np.maximum(np.abs(efforts[len(DAYS) // 2] - line.target) - rules.HALF_RANGE, 0.0)
    worth = _below(efforts, high) - _below(efforts, low) - 0.02 * np.minimum(off, 10.0)
    over = 1 - _below(efforts, line.ceiling) > rules.CHANCE_OVER_CEILING
    best = np.where(over, -np.inf, worth).max(axis=1, keepdims=True)
    best = np.where(np.isfinite(best), best, worth.max(axis=1, keepdims=True))
    return np.maximum(best - worth, 0.0), over


def _efforts(
    people: tuple[SimulatedMember, ...], line: PlanLine, offered: Doses, day: float
) -> Numbers:
    """True effort of every dose for everybody on such a day; (members, doses)."""
    measure, law = line.movement.measure, people[0].nature.law
    same = np.stack([offered.rungs.astype(np.float64), offered.load])
    distinct, where = np.unique(same, axis=1, return_inverse=True)
    kinds = [
        Dose(
            variation=offered.names[int(rung)],
            amount=1.0,
            load=float(load) if offered.loaded else None,
        )
        for rung, load in distinct.T
    ]
    most = np.array([[_most(person, line, kind, day) for kind in kinds] for person in people])
    most = most[:, where.ravel()]
    share = offered.amount / np.maximum(most, 1e-9)
    efforts = 10 * (
        np.sqrt(share) if measure is Measure.MINUTES and law is Law.PUBLISHED else share
    )
    if measure in (Measure.REPS, Measure.LOAD) and law is Law.PUBLISHED:
        efforts = np.where(most < 10, np.maximum(10 - (most - offered.amount), 0), efforts)
    return np.where(most <= 0, 20.0, efforts)


def _most(person: SimulatedMember, line: PlanLine, kind: Dose, day: float) -> float:
    name, nature = line.movement.name, person.nature
    spread = nature.day_to_day * (0.4 if line.movement.measure is Measure.LOAD else 1.0)
    capacity = person.capacity[name] * float(np.exp(spread * day))
    return can_just_do(person.movements[name], kind, capacity, nature.law)


def _below(efforts: Numbers, level: float) -> Numbers:
    """Chance, over the days, that the effort is not above a level."""
    worst = np.where(efforts[0] <= level, -9.0, 9.0)
    for at in range(len(DAYS) - 1):
        more, less = efforts[at], efforts[at + 1]
        between = (more > level) & (less <= level)
        share = (more - level) / np.where(between, more - less, 1.0)
        worst = np.where(between, DAYS[at] + share * (DAYS[at + 1] - DAYS[at]), worst)
    return 1 - normal_cdf(worst)
