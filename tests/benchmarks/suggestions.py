"""How good suggestions are in simulated rooms: every rule side by side, in one run.

`python -m tests.benchmarks.suggestions [--quick]`. Sixty people, six movements, sixteen weekly
classes; 85 % come, 75 % of them answer, about two movements each. Effort is the true one. Rooms
differ more than rules do from one seed to the next, so that the main table takes many of them.
"""

import sys
import time
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from datetime import date, timedelta
from math import sqrt
from statistics import fmean, stdev

import numpy as np
from numpy.typing import NDArray

from core.advice import advise
from demo_script.bodies import Law
from demo_script.people import Nature
from tests.simulation.plans import mixed
from tests.simulation.rooms import FIRST, Room, Rule, Told, make_room
from tests.simulation.rules_of_thumb import (
    engine,
    last_rating,
    one_dose_for_all,
    one_step,
    oracle,
)

WEEKS = 16
NATURE = Nature()


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
)
ORACLE = Row(name="oracle", rule=oracle)
ROWS = {row.name: row for row in (*SIMPLE, *ENGINE, *OTHERS, ORACLE)}
VARIANTS = (
    ("twice the noise", Nature(noise_sd=1.5, new_noise_sd=2.0), 0.75),
    ("no bias", Nature(bias_sd=0.0), 0.75),
    ("ladders by another law", Nature(law=Law.PROPORTIONAL), 0.75),
    ("demands off by 20 percent", Nature(demand_error=0.2), 0.75),
    ("a quarter of the answers", NATURE, 0.1875),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """One room to be simulated, by a process of its own."""

    row: str
    seed: int
    size: int
    nature: Nature
    answers: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Trained:
    """What became of one room."""

    week: NDArray[np.int64]
    effort: NDArray[np.float64]
    changes: float
    """Changed doses per member and class, of the six movements."""
    spent: float
    """CPU seconds that telling took in all."""

    def shares(self) -> tuple[float, ...]:
        """In range and maximal, in the order of the table's columns."""
        hit, late = (self.effort >= 6) & (self.effort <= 8), self.week >= WEEKS // 2
        most = self.effort >= 9.5
        classes = (hit[self.week == each] for each in (0, 2, 4))
        return tuple(float(np.mean(e)) for e in (hit, hit[late], *classes, most, most[late]))


def train(job: Job) -> Trained:
    """Let one room train for all its classes."""
    row, spent = ROWS[job.row], 0.0

    def timed(room: Room, on: date) -> Told:
        nonlocal spent
        began = time.process_time()
        told = row.rule(room, on)
        spent += time.process_time() - began
        return told

    room = make_room(
        mixed(),
        job.size,
        job.seed,
        job.nature,
        answers=job.answers,
        estimates=row.estimates,
        roll_call=row.roll_call,
    ).train(timed, WEEKS)
    return Trained(
        week=np.array([each.week for each in room.done]),
        effort=np.array([each.effort for each in room.done]),
        changes=_changes(room),
        spent=spent,
    )


def _changes(room: Room) -> float:
    last: dict[tuple[str, str], object] = {}
    changed = 0
    for each in room.done:
        key = (each.member, each.movement)
        changed += key in last and last[key] != each.dose
        last[key] = each.dose
    return changed * len(room.plan.lines) / len(room.done)


def line(name: str, rooms: list[Trained], size: int) -> str:
    """One line of the table; what stands after "±" is the standard error over the rooms."""
    shares = np.array([each.shares() for each in rooms]) * 100
    numbers = "".join(f"{each:9.1f}" for each in shares.mean(axis=0))
    errors = "".join(
        f"{stdev(shares[:, at]) / sqrt(len(rooms)) if len(rooms) > 1 else np.nan:7.1f}"
        for at in (1, -1)
    )
    changes = fmean(each.changes for each in rooms)
    spent = 1000 * fmean(each.spent for each in rooms) / (size * WEEKS)
    return f"{name:32}{numbers}{errors}{changes:9.2f}{spent:9.3f}"


def table(
    title: str,
    rows: tuple[Row, ...],
    seeds: range,
    size: int,
    nature: Nature = NATURE,
    answers: float = 0.75,
) -> None:
    """Print one table, and what the engine with reserve reaches of what the oracle does."""
    heads = ("all", "2nd half", "class 1", "class 3", "class 5", "max", "max 2nd")
    print(f"\n{title}: {len(seeds)} rooms of {size}, {WEEKS} classes; percent of bouts")
    print(f"{'':32}{''.join(f'{head:>9}' for head in heads)}{'± 2nd':>7}{'± max':>7}", end="")
    print(f"{'changes':>9}{'CPU ms':>9}")
    late = {}
    for row, rooms in _trained(rows, seeds, size, nature, answers):
        print(line(row.name, rooms, size), flush=True)
        late[row.name] = fmean(each.shares()[1] for each in rooms)
    print(f"with reserve, of the oracle's second half: {late[ENGINE[1].name] / late['oracle']:.3f}")


def _trained(
    rows: tuple[Row, ...], seeds: range, size: int, nature: Nature, answers: float
) -> Iterator[tuple[Row, list[Trained]]]:
    """Every row's rooms, simulated on all cores."""
    with ProcessPoolExecutor() as processes:
        for row in rows:
            jobs = [
                Job(row=row.name, seed=seed, size=size, nature=nature, answers=answers)
                for seed in seeds
            ]
            yield row, list(processes.map(train, jobs))


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
    """Everything, in up to half an hour; with --quick the main table alone, on fewer rooms."""
    quick = "--quick" in sys.argv[1:]
    began = time.monotonic()
    seeds = range(100, 102 if quick else 120)
    table("Main", (*SIMPLE, *ENGINE, *OTHERS, ORACLE), seeds, 60)
    if not quick:
        table("Other seeds", (*SIMPLE, *ENGINE, ORACLE), range(900, 904), 60)
        for title, nature, answers in VARIANTS:
            rows = (*SIMPLE, *ENGINE[:2], ORACLE)
            table(title.capitalize(), rows, range(200, 204), 30, nature, answers)
    cost()
    print(f"\n{time.monotonic() - began:.0f} s in all")


if __name__ == "__main__":
    main()
