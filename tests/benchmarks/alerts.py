"""Who is found and who is wrongly told of: alerts in simulated rooms, against the truth.

`python -m tests.benchmarks.alerts [--tune]`. Rooms of twenty, of whom two go to their limit in
every class whatever they are told; sixteen weekly classes by the engine's own suggestions; 85 %
come, 75 % of them answer. `--tune` runs other seeds, so that rules aren't fitted to what is
reported.
"""

import sys
import time
from collections import Counter, defaultdict
from dataclasses import dataclass, field, fields
from datetime import date, timedelta

import numpy as np

from core.alert import OF_MAXIMUM, Alert, AlertKind
from core.movement import Dose
from core.rules import HALF_RANGE, MAXIMAL_EFFORT
from core.watching import Asked, Watch, watch
from demo_script.people import Nature, Performance, SimulatedMember
from tests.simulation.plans import mixed
from tests.simulation.rooms import FIRST, Room, make_room
from tests.simulation.rules_of_thumb import engine

SIZE, ALL_OUT, WEEKS = 20, 2, 16
TUNED_ON, REPORTED = range(10, 16), range(500, 512)
WEEKS_OF_A_MONTH = 52 / 12
NEARLY = 0.5
"""Points by which somebody who truly was at the limit, or out of range, may have been off it."""


class Striver(SimulatedMember):
    """Somebody who goes on until nothing is left, whatever they were told."""

    def perform(self, movement: str, dose: Dose) -> Performance:
        """All out: what was told is done, and then as much more as goes."""
        usual = super().perform(movement, dose)
        return Performance(
            true_effort=10.0,
            rating=self.rate(10.0),
            completed=usual.completed,
            reserve=0.0,
        )


@dataclass(slots=True)
class Tally:
    """What was found in some rooms."""

    found_after: list[float] = field(default_factory=list)
    """Answered classes after which each striver was told of; infinite for never."""
    raised: Counter[AlertKind] = field(default_factory=Counter)
    wrong: Counter[AlertKind] = field(default_factory=Counter)
    member_months: float = 0.0


def strive(person: SimulatedMember) -> Striver:
    """The same person as a striver."""
    return Striver(**{each.name: getattr(person, each.name) for each in fields(person)})


def run(seed: int, tally: Tally) -> None:
    """One room through all of its classes, watched after each."""
    room = make_room(mixed(), SIZE, seed, Nature())
    strivers = room.members[:ALL_OUT]
    room.people |= {name: strive(room.people[name]) for name in strivers}
    rule = engine()
    known: set[tuple[str, AlertKind, tuple[str, ...]]] = set()
    found: dict[str, int] = {}
    for week in range(WEEKS):
        room.train(rule, 1)
        for alert in watch(room.reports, watched(room, week)):
            key = (alert.member, alert.kind, alert.cause)
            if key in known:
                continue
            known.add(key)
            if alert.member in strivers and alert.kind in OF_MAXIMUM:
                found.setdefault(alert.member, answered(room, alert.member))
            if alert.member not in strivers:
                tally.raised[alert.kind] += 1
                tally.wrong[alert.kind] += not is_true(room, alert)
    for name in strivers:
        if answered(room, name) >= 2:
            tally.found_after.append(found.get(name, np.inf))
    tally.member_months += (SIZE - ALL_OUT) * WEEKS / WEEKS_OF_A_MONTH


def watched(room: Room, week: int) -> Watch:
    """Everybody is asked after every class; what isn't answered by then stays unanswered."""
    asked = tuple(
        Asked(member=member, session=f"week {at:03}", on=day(at))
        for at in range(week + 1)
        for member in room.members
    )
    return Watch(target=room.plan.target, asked=asked, on=day(week))


def day(week: int) -> date:
    """When a class was."""
    return FIRST + timedelta(weeks=week)


def answered(room: Room, member: str) -> int:
    """About how many classes this member has answered so far."""
    return sum(each.member == member for each in room.reports.ratings)


def is_true(room: Room, alert: Alert) -> bool:
    """Whether what an alert says of its member is so: judged by what they truly did and felt."""
    efforts: dict[date, list[float]] = defaultdict(list)
    for each in room.done:
        if each.member == alert.member:
            efforts[day(each.week)].append(each.effort)
    if alert.kind is AlertKind.BACK:
        before, back = (each.on for each in alert.evidence)
        return not any(before < on < back for on in efforts)
    of_it = [efforts[each.on] for each in alert.evidence if each.on in efforts]
    if alert.kind in OF_MAXIMUM:
        return sum(max(those) >= MAXIMAL_EFFORT - NEARLY for those in of_it) * 2 >= len(of_it)
    felt = np.mean([np.mean(those) for those in of_it]) if of_it else room.plan.target
    if alert.kind is AlertKind.ABOVE_RANGE:
        return bool(felt > room.plan.target + HALF_RANGE - NEARLY)
    if alert.kind is AlertKind.BELOW_RANGE:
        return bool(felt < room.plan.target - HALF_RANGE + NEARLY)
    return True  # silence and sums are what they are


def report(seeds: range) -> None:
    """Run and print."""
    began, tally = time.monotonic(), Tally()
    for seed in seeds:
        run(seed, tally)
    after = np.array(tally.found_after)
    print(f"{len(seeds)} rooms of {SIZE}, {WEEKS} weekly classes, {tally.member_months:.0f} months")
    print(f"\nTruly at the maximum in every class: {len(after)} members who answered twice or more")
    for classes in (1, 2, 3, 4):
        print(f"  told of by answered class {classes}: {100 * np.mean(after <= classes):5.1f} %")
    print(f"  never told of: {100 * np.mean(np.isinf(after)):5.1f} %")
    print("\nAlerts about all others, per twenty members and month")
    rate = 20 / tally.member_months
    for kind in AlertKind:
        if tally.raised[kind]:
            print(row(kind, rate * tally.raised[kind], rate * tally.wrong[kind]))
    print(row("all", rate * tally.raised.total(), rate * tally.wrong.total()))
    print(f"\n{time.monotonic() - began:.0f} s in all")


def row(name: str, raised: float, wrong: float) -> str:
    """A line of the table."""
    return f"  {name:24}{raised:6.2f}  wrong: {wrong:.2f}"


def main() -> None:
    """The table."""
    report(TUNED_ON if "--tune" in sys.argv[1:] else REPORTED)


if __name__ == "__main__":
    main()
