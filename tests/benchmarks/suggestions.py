"""How good suggestions are in simulated rooms: every rule side by side, in one run.

`python -m tests.benchmarks.suggestions [--quick]`. Sixty people, six movements, sixteen weekly
classes; 85 % come, 75 % of them answer, about two movements each. Effort is the true one.
"""

import sys
import time
from dataclasses import dataclass, replace
from datetime import timedelta

import numpy as np

from core.advice import advise
from demo_script.bodies import Law
from demo_script.people import Nature
from tests.simulation.plans import mixed
from tests.simulation.rooms import FIRST, Room, Rule, make_room
from tests.simulation.rules_of_thumb import (
    engine,
    last_rating,
    one_dose_for_all,
    one_step,
    oracle,
)

WEEKS = 16


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One rule in the table."""

    name: str
    rule: Rule
    estimates: bool = False
    roll_call: bool = True


SIMPLE = (
    Row(name="one dose for all", rule=one_dose_for_all),
    Row(name="last rating, in proportion", rule=last_rating),
    Row(name="one step up or down", rule=one_step),
)
ENGINE = (
    Row(name="engine, ratings only", rule=engine(reserve=False)),
    Row(name="engine, with reserve", rule=engine()),
    Row(name="engine, reserve and estimates", rule=engine(), estimates=True),
)
OTHERS = (
    Row(name="  the same, silence not known", rule=engine(), roll_call=False),
    Row(name="  the same, options called out", rule=engine(called=True)),
    Row(name="oracle", rule=oracle),
)
VARIANTS = (
    ("twice the noise", Nature(noise_sd=1.5, new_noise_sd=2.0), 0.75),
    ("no bias", Nature(bias_sd=0.0), 0.75),
    ("ladders by another law", Nature(law=Law.PROPORTIONAL), 0.75),
    ("demands off by 20 percent", Nature(demand_error=0.2), 0.75),
    ("a quarter of the answers", Nature(), 0.1875),
)


def rooms_of(
    row: Row, seeds: range, size: int, nature: Nature, answers: float
) -> tuple[list[Room], float]:
    """The rooms after their classes, and the CPU seconds that telling them took in all."""
    spent = 0.0

    def timed(room: Room, on: object) -> object:
        nonlocal spent
        began = time.process_time()
        told = row.rule(room, on)  # type: ignore[arg-type]
        spent += time.process_time() - began
        return told

    rooms = []
    for seed in seeds:
        room = make_room(
            mixed(),
            size,
            seed,
            nature,
            answers=answers,
            estimates=row.estimates,
            roll_call=row.roll_call,
        )
        rooms.append(room.train(timed, WEEKS))  # type: ignore[arg-type]
    return rooms, spent


def measure(row: Row, seeds: range, size: int, nature: Nature, answers: float) -> str:
    """One line of the table."""
    rooms, spent = rooms_of(row, seeds, size, nature, answers)
    week = np.array([each.week for room in rooms for each in room.done])
    effort = np.array([each.effort for room in rooms for each in room.done])
    hit, late = (effort >= 6) & (effort <= 8), week >= WEEKS // 2
    shares = [hit, hit[late], hit[week == 0], hit[week == 2], hit[week == 4]]
    shares += [effort >= 9.5, effort[late] >= 9.5]
    changed = np.mean([_changes(room) for room in rooms])
    per_class = 1000 * spent / (len(seeds) * size * WEEKS)
    numbers = " ".join(f"{100 * float(np.mean(share)):7.1f}" for share in shares)
    return f"{row.name:32}{numbers} {changed:9.2f} {per_class:8.3f}"


def _changes(room: Room) -> float:
    """Changed doses per member and class, of the six movements."""
    last: dict[tuple[str, str], object] = {}
    changed = 0
    for each in room.done:
        key = (each.member, each.movement)
        changed += key in last and last[key] != each.dose
        last[key] = each.dose
    return changed * len(room.plan.lines) / len(room.done)


def table(
    title: str,
    rows: tuple[Row, ...],
    seeds: range,
    size: int,
    nature: Nature,
    answers: float = 0.75,
) -> None:
    """Print one table."""
    heads = ("all", "2nd half", "class 1", "class 3", "class 5", "max", "max 2nd")
    print(f"\n{title}: {len(seeds)} rooms of {size}, {WEEKS} classes; percent of bouts")
    print(f"{'':32}" + " ".join(f"{head:>7}" for head in heads) + f" {'changes':>9} {'CPU ms':>8}")
    for row in rows:
        print(measure(row, seeds, size, nature, answers), flush=True)


def cost() -> None:
    """How the cost grows: 1, 10 and 100 times as many members and answers, eight classes."""
    print("\nCost of one whole computation after eight classes (movements asked: 2)")
    small = make_room(mixed(), 15, 1, roll_call=True).train(one_dose_for_all, 8)
    for times in (1, 10, 100):
        room = _copies(small, times)
        began = time.process_time()
        advise(room.plan, room.reports, room.members, FIRST + timedelta(weeks=8))
        spent = time.process_time() - began
        answers = sum(each.effort is not None for each in room.reports.bouts)
        print(
            f"{len(room.members):6} members {answers:7} answers {spent:8.3f} s CPU "
            f"{1000 * spent / answers:7.3f} ms an answer"
        )


def _copies(room: Room, times: int) -> Room:
    """The same people and answers many times over, under other names."""
    names = [f" {copy}" for copy in range(times)]
    reports = replace(
        room.reports,
        bouts=tuple(replace(e, member=e.member + n) for n in names for e in room.reports.bouts),
        ratings=tuple(replace(e, member=e.member + n) for n in names for e in room.reports.ratings),
    )
    people = {name + n: person for n in names for name, person in room.people.items()}
    return Room(plan=room.plan, people=people, reports=reports)


def main() -> None:
    """Everything, in a few minutes; with --quick the main table alone, on fewer rooms."""
    quick = "--quick" in sys.argv[1:]
    began = time.monotonic()
    seeds = range(100, 101 if quick else 103)
    table("Main", (*SIMPLE, *ENGINE, *OTHERS), seeds, 60, Nature())
    if not quick:
        table("Other seeds", (*SIMPLE, *ENGINE), range(900, 902), 60, Nature())
        for title, nature, answers in VARIANTS:
            rows = (*SIMPLE, ENGINE[0], ENGINE[1], OTHERS[-1])
            table(title.capitalize(), rows, range(200, 202), 30, nature, answers)
    cost()
    print(f"\n{time.monotonic() - began:.0f} s in all")


if __name__ == "__main__":
    main()
