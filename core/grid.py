"""The last classes at a glance: how each member felt them, and how capacities spread."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from core.axis import axis
from core.capacity import Belief
from core.movement import Dose
from core.plan import Plan
from core.record import is_maximal
from core.reports import Reports, SessionRating
from core.rules import HALF_RANGE, MAXIMAL_EFFORT
from core.suggestion import Option

MOST_CLASSES = 8
"""Classes shown, the latest: two months of a weekly group, and as many columns as a phone shows
beside the names."""


class Felt(StrEnum):
    """How one member felt one class."""

    EASIER = "easier"
    AS_PLANNED = "as planned"
    HARDER = "harder"
    MAXIMAL = "maximal"
    """The class rated at its maximum, or a movement of it maximal or cut short."""
    UNRATED = "unrated"
    """They were there, and didn't rate it."""
    ABSENT = "absent"
    SILENT = "silent"
    """They said nothing, though they had before."""
    NOT_YET = "not yet"
    """They had never said anything until then."""


@dataclass(frozen=True, slots=True, kw_only=True)
class GridRow:
    """One member's last classes, oldest first."""

    member: str
    cells: tuple[Felt, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """Members by their group's last classes."""

    days: tuple[date, ...]
    """Oldest first; a column each."""
    rows: tuple[GridRow, ...]
    """In the order in which the members were given."""

    def count(self, felt: Felt) -> int:
        """How many cells say so."""
        return sum(row.cells.count(felt) for row in self.rows)


@dataclass(frozen=True, slots=True, kw_only=True)
class OptionMark:
    """An option that is called out, where it would be exactly the target."""

    dose: Dose
    at: float
    members: tuple[float, ...]
    """Where those who are given it stand, from the weakest on."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """How a movement's capacities spread over the room, against its options; log strengths."""

    movement: str
    options: tuple[OptionMark, ...]
    """Easiest first."""


def grid(
    reports: Reports,
    members: tuple[str, ...],
    classes: tuple[tuple[str, date], ...],
    target: float,
) -> Grid:
    """How these members felt these classes, each a session's id and day, in any order."""
    held = sorted(classes, key=lambda each: (each[1], each[0]))[-MOST_CLASSES:]
    settled = reports.settled()
    said = {(each.member, each.session): each for each in settled.ratings}
    spent = {(each.member, each.session) for each in settled.bouts if is_maximal(each)}
    first: dict[str, date] = {}
    for each in settled.ratings:
        first[each.member] = min(first.get(each.member, each.on), each.on)

    def cell(member: str, session: str, on: date) -> Felt:
        rating = said.get((member, session))
        if rating is None:
            heard = member in first and first[member] < on
            return Felt.SILENT if heard else Felt.NOT_YET
        return _felt(rating, target, spent=(member, session) in spent)

    return Grid(
        days=tuple(on for _, on in held),
        rows=tuple(
            GridRow(member=member, cells=tuple(cell(member, *each) for each in held))
            for member in members
        ),
    )


def _felt(rating: SessionRating, target: float, *, spent: bool) -> Felt:
    if not rating.attended:
        return Felt.ABSENT
    if spent or (rating.effort is not None and rating.effort >= MAXIMAL_EFFORT):
        return Felt.MAXIMAL
    if rating.effort is None:
        return Felt.UNRATED
    if rating.effort > target + HALF_RANGE:
        return Felt.HARDER
    return Felt.EASIER if rating.effort < target - HALF_RANGE else Felt.AS_PLANNED


def spreads(belief: Belief, plan: Plan, options: tuple[Option, ...]) -> tuple[Spread, ...]:
    """For each movement of the plan, where its options lie and where those stand who get them.

    From left to right: a little of a harder variation can be easier than much of an easier one.
    """
    found = []
    for line in plan.lines:
        on = axis(belief, line, line.movement.standard)
        marks = tuple(
            OptionMark(
                dose=option.dose,
                at=on.at_target(option.dose),
                members=tuple(sorted(on.reach(member).middle for member in option.members)),
            )
            for option in options
            if option.movement == line.movement.name
        )
        in_order = tuple(sorted(marks, key=lambda mark: mark.at))
        found.append(Spread(movement=line.movement.name, options=in_order))
    return tuple(found)
