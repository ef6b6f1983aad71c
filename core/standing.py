"""Where one member stands on the ladder of each movement, now and when they began."""

from collections import Counter
from dataclasses import dataclass, replace
from datetime import date

from core.axis import Axis, Reach, axis
from core.capacity import Belief, first_belief, learn, sessions
from core.movement import Movement
from core.plan import Plan, PlanLine
from core.reports import Bout, Reports

MOST_STANDINGS = 6
"""Movements shown: as many rows as a phone shows without scrolling. The others are counted."""
BEGINNING = 3
"""Answers about a movement after which it is known where somebody began. After the first, a belief
still shows what was supposed: in simulated classes it is off by a quarter, after three by a
tenth."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """A rung of the ladder, where the planned amount of it would be the target."""

    variation: str
    at: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """Where the member stands with one movement, now and when they began."""

    movement: Movement
    variation: str
    """The one they did last: what amounts are told of, since it's the one they know."""
    repetitions: float | None
    """The repetitions that the kilograms are told for; None where amounts aren't loads."""
    steps: tuple[Step, ...]
    """The ladder on the movement's axis, easiest first."""
    now: Reach
    """Position on the axis."""
    began: Reach | None
    """Position when they began; None as long as there is no answer since."""
    can: Reach
    """What they could just do: seconds, repetitions, minutes, or kilograms."""
    could: Reach | None
    """The same when they began."""

    @property
    def gain(self) -> float:
        """How far they have come along the axis; 0 if there is nothing to compare."""
        return 0.0 if self.began is None else self.now.middle - self.began.middle

    @property
    def changed(self) -> bool:
        """Whether they have moved by more than either place is in doubt; for a loss, than both.

        A loss that is told and isn't one hurts more than one that isn't told.
        """
        if self.began is None:
            return False
        doubts = (self.now.half, self.began.half)
        return self.gain > max(doubts) or -self.gain > sum(doubts)

    @property
    def doubt(self) -> float:
        """How wide the likely range is, along the axis."""
        return 2 * self.now.half


def standings(
    belief: Belief,
    plan: Plan,
    settled: Reports,
    member: str,
    on: date,
    shown: dict[str, list[Bout]],
) -> tuple[Standing, ...]:
    """In the plan's order, from the belief on that day; `shown` is what was told by movement."""
    lines = [line for line in plan.lines if line.movement.name in shown]
    last = {movement: of_it[-1].dose.variation for movement, of_it in shown.items()}
    beginnings = {
        movement: of_it[BEGINNING - 1].session
        for movement, of_it in shown.items()
        if len(of_it) > BEGINNING
    }
    began: dict[str, Reach] = {}
    then = first_belief(plan, belief.members)
    for session in sessions(settled, on) if beginnings else ():
        then = learn(then, session)
        for line in lines:
            name = line.movement.name
            if beginnings.get(name) == session.name:
                began[name] = axis(then, line, last[name]).reach(member)
        if len(began) == len(beginnings):
            break  # most began long ago
    return tuple(
        _standing(
            axis(belief, line, last[line.movement.name]), member, began.get(line.movement.name)
        )
        for line in lines
    )


def _standing(on: Axis, member: str, began: Reach | None) -> Standing:
    now, planned = on.reach(member), on.line.dose
    return Standing(
        movement=on.movement,
        variation=on.variation,
        repetitions=None if on.movement.load_step is None else planned.amount,
        steps=tuple(
            Step(variation=each.name, at=on.at_target(replace(planned, variation=each.name)))
            for each in on.movement.ladder
        ),
        now=now,
        began=began,
        can=_amounts(on, now),
        could=None if began is None else _amounts(on, began),
    )


def _amounts(on: Axis, reach: Reach) -> Reach:
    return Reach(
        low=on.amount(reach.low), middle=on.amount(reach.middle), high=on.amount(reach.high)
    )


def worth_showing(plan: Plan, bouts: list[Bout]) -> tuple[dict[str, list[Bout]], int]:
    """The movements that most was told of, with what was told, and how many others there are."""
    told: dict[str, list[Bout]] = {}
    for line in plan.lines:
        of_it = [each for each in bouts if _tells(each, line)]
        if of_it:
            told[line.movement.name] = of_it
    counts = Counter({movement: len(of_it) for movement, of_it in told.items()})
    most = {movement for movement, _ in counts.most_common(MOST_STANDINGS)}
    shown = {movement: of_it for movement, of_it in told.items() if movement in most}
    return shown, len(told) - len(shown)


def _tells(bout: Bout, line: PlanLine) -> bool:
    """Whether this says anything about what they can do of it as it is planned now."""
    said = bout.effort is not None or bout.unfinished or bout.reserve is not None
    known = any(each.name == bout.dose.variation for each in line.movement.ladder)
    return bout.movement == line.movement.name and said and known and bout.dose.amount > 0
