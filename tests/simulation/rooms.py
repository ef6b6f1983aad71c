"""A simulated room: a class that trains for some weeks by whatever a rule tells it to do."""

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from datetime import UTC, date, datetime, time, timedelta

import numpy as np

from core.capacity import History
from core.movement import Dose, Measure
from core.plan import Plan
from core.reports import Bout, Reports, SessionRating, StartingEstimate
from demo_script.people import Nature, SimulatedMember, make_class

FIRST = date(2026, 1, 8)


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What a rule tells a room before a class."""

    doses: dict[tuple[str, str], Dose]
    """By member and movement."""
    asked: dict[str, tuple[str, ...]]
    reserve: dict[str, tuple[str, ...]] = field(default_factory=dict)


Rule = Callable[["Room", date], Told]


@dataclass(frozen=True, slots=True, kw_only=True)
class Done:
    """One bout as it truly was."""

    week: int
    member: str
    movement: str
    dose: Dose
    effort: float


@dataclass(slots=True, kw_only=True)
class Room:
    """A class with its plan, and everything it has said so far."""

    plan: Plan
    people: dict[str, SimulatedMember]
    reports: Reports = field(default_factory=Reports)
    done: list[Done] = field(default_factory=list)
    weeks: int = 0
    """How many classes they have had."""
    roll_call: bool = False
    """Whether the instructor notes who was there without answering, and who wasn't."""
    learned: History | None = None
    """What was made of it all so far, where the rule keeps that."""

    @property
    def members(self) -> tuple[str, ...]:
        """Their names."""
        return tuple(self.people)

    def train(self, rule: Rule, weeks: int) -> "Room":
        """One class a week, told by this rule."""
        for week in range(self.weeks, self.weeks + weeks):
            on = FIRST + timedelta(weeks=week)
            told = rule(self, on)
            for member in self.members:
                self._attend(member, week, on, told)
        self.weeks += weeks
        return self

    def _attend(self, member: str, week: int, on: date, told: Told) -> None:
        person = self.people[member]
        said_at = datetime.combine(on, time(20), tzinfo=UTC)
        if not person.comes():
            if self.roll_call:
                self._note(member, week, on, said_at, attended=False)
            return
        replies = person.replies()
        bouts, efforts = [], []
        for line in self.plan.lines:
            name = line.movement.name
            dose = told.doses[member, name]
            result = person.perform(name, dose)
            efforts.append(result.true_effort)
            self.done.append(
                Done(week=week, member=member, movement=name, dose=dose, effort=result.true_effort)
            )
            rated = name in told.asked.get(member, ())
            left = name in told.reserve.get(member, ()) and result.completed is None
            bouts.append(
                Bout(
                    member=member,
                    session=f"week {week:03}",
                    on=on,
                    said_at=said_at,
                    movement=name,
                    dose=dose,
                    completed=result.completed if rated else None,
                    effort=float(result.rating) if rated else None,
                    reserve=result.reserve if left and 5 <= result.rating < 9.5 else None,
                )
            )
        if not replies:
            if self.roll_call:
                self._note(member, week, on, said_at, attended=True)
            return
        whole = SessionRating(
            member=member,
            session=f"week {week:03}",
            on=on,
            said_at=said_at,
            effort=float(person.rate(float(np.mean(efforts)))),
            minutes=self.plan.minutes,
        )
        self.reports = Reports(
            ratings=(*self.reports.ratings, whole),
            bouts=(*self.reports.bouts, *bouts),
            estimates=self.reports.estimates,
        )

    def _note(self, member: str, week: int, on: date, said_at: datetime, *, attended: bool) -> None:
        """The instructor's tap: somebody was there, or wasn't."""
        tap = SessionRating(
            member=member, session=f"week {week:03}", on=on, said_at=said_at, attended=attended,
            noted=True,
        )  # fmt: skip
        self.reports = replace(self.reports, ratings=(*self.reports.ratings, tap))


def make_room(
    plan: Plan,
    size: int,
    seed: int,
    nature: Nature | None = None,
    *,
    answers: float = 0.75,
    attends: float = 0.85,
    estimates: bool = False,
    roll_call: bool = False,
) -> Room:
    """A room of that many people; the same seed makes the same people."""
    luck = np.random.default_rng(seed)
    names = tuple(f"member {number:04}" for number in range(size))
    people = make_class(names, plan, nature or Nature(), luck)
    for person in people:
        person.answers, person.attends = answers, attends
    room = Room(plan=plan, people={each.name: each for each in people}, roll_call=roll_call)
    if estimates:
        room.reports = Reports(estimates=tuple(_estimates(room)))
    return room


def _estimates(room: Room) -> list[StartingEstimate]:
    found = []
    for member, person in room.people.items():
        for line in room.plan.lines:
            guess = person.guess(line.movement.name)
            load = None
            if line.movement.measure is Measure.LOAD:
                load, guess = guess / (1 + 10 / 30), 10.0
            found.append(
                StartingEstimate(
                    member=member,
                    movement=line.movement.name,
                    on=FIRST - timedelta(days=7),
                    amount=max(guess, 0.5),
                    load=load,
                )
            )
    return found
