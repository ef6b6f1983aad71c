"""What rooms are told: simple rules, the engine, and an oracle that knows every capacity."""

from collections import defaultdict
from datetime import date
from math import sqrt

from core.advice import advise_from
from core.capacity import begin, take_in
from core.doses import doses
from core.movement import Dose
from core.plan import PlanLine
from core.reports import Bout
from tests.simulation.rooms import Room, Rule, Told


def one_dose_for_all(room: Room, on: date) -> Told:
    """Everybody does the plan."""
    return Told(
        doses={
            (m, line.movement.name): line.dose for m in room.members for line in room.plan.lines
        },
        asked=in_turn(room),
    )


def last_rating(room: Room, on: date) -> Told:
    """Amount or load times target by rating, from the last rated bout; the plan before it."""

    def next_dose(line: PlanLine, last: Bout | None) -> Dose:
        if last is None:
            return line.dose
        rating = 10.0 if last.unfinished else (last.effort or 0.0)
        done = last.completed if last.unfinished and last.completed else last.dose.amount
        factor = line.target / max(rating, 1.0)
        if last.dose.load is not None:
            wanted = (1 + last.dose.amount / 30) * last.dose.load  # in proportion to the lift
            load = max(round(last.dose.load * (1 + (factor - 1) / 4)), 1.0)
            return Dose(variation=last.dose.variation, amount=10, load=min(load, wanted))
        return _rounded(line, last.dose.variation, done * factor)

    return _from_last(room, next_dose)


def one_step(room: Room, on: date) -> Told:
    """One step up below the range, one step down above it."""

    def next_dose(line: PlanLine, last: Bout | None) -> Dose:
        if last is None:
            return line.dose
        rating = 10.0 if last.unfinished else (last.effort or 0.0)
        direction = 1 if rating < 6 else -1 if rating > 8 else 0
        if last.dose.load is not None:
            load = max(last.dose.load + direction * (line.movement.load_step or 1), 1.0)
            return Dose(variation=last.dose.variation, amount=10, load=load)
        amount = last.dose.amount + direction * line.movement.step
        rung = line.movement.rung(last.dose.variation)
        if amount > line.movement.largest and rung + 1 < len(line.movement.ladder):
            return _rounded(line, line.movement.ladder[rung + 1].name, line.dose.amount)
        if amount < line.movement.smallest and rung > 0:
            return _rounded(line, line.movement.ladder[rung - 1].name, line.dose.amount)
        return _rounded(line, last.dose.variation, amount)

    return _from_last(room, next_dose)


def engine(ask: int = 2, *, reserve: bool = True, called: bool = False) -> Rule:
    """This project's suggestions: each member's own, or the option called out for them.

    What was learned is kept in the room, as the bot keeps it, so that each class costs the same.
    """

    def tell(room: Room, on: date) -> Told:
        settled = room.reports.settled()
        room.learned = take_in(room.learned or begin(room.plan, room.members), settled, on)
        belief = room.learned.on(on)
        advice = advise_from(belief, room.plan, settled, room.members, on, ask)
        return Told(
            doses={
                (each.member, each.movement): each.dose
                for each in (advice.called if called else advice.suggestions)
            },
            asked={each.member: each.movements for each in advice.asks},
            reserve={each.member: each.reserve for each in advice.asks} if reserve else {},
        )

    return tell


def oracle(room: Room, on: date) -> Told:
    """The dose nearest to the middle of the range, for somebody who knows every capacity."""
    middle = sqrt(48)
    found = {}
    for line in room.plan.lines:
        offered = doses(line)
        every = [offered.dose(at) for at in range(len(offered.amount))]
        if line.dose.load is not None:
            every = [each for each in every if each.amount == line.dose.amount]
        for member, person in room.people.items():
            name = line.movement.name
            efforts = [abs(person.oracle_effort(name, each) - middle) for each in every]
            found[member, name] = every[efforts.index(min(efforts))]
    return Told(doses=found, asked={})


def _from_last(room: Room, next_dose: object) -> Told:
    last = {
        (each.member, each.movement): each for each in room.reports.bouts if each.effort is not None
    }
    assert callable(next_dose)
    return Told(
        doses={
            (m, line.movement.name): next_dose(line, last.get((m, line.movement.name)))
            for m in room.members
            for line in room.plan.lines
        },
        asked=in_turn(room),
    )


def in_turn(room: Room) -> dict[str, tuple[str, ...]]:
    """Two movements each, the ones heard of least."""
    heard: dict[str, dict[str, int]] = defaultdict(lambda: defaultdict(int))
    for bout in room.reports.bouts:
        heard[bout.member][bout.movement] += bout.effort is not None
    names = [line.movement.name for line in room.plan.lines]
    return {m: tuple(sorted(names, key=lambda name: heard[m][name])[:2]) for m in room.members}


def _rounded(line: PlanLine, variation: str, amount: float) -> Dose:
    movement = line.movement
    steps = round(amount / movement.step) * movement.step
    return Dose(
        variation=variation, amount=min(max(steps, movement.smallest), movement.largest), sets=2
    )
