"""Decided doses, stated as suggestions and options: the change, the reason, the other way."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core import rules
from core.doses import Doses
from core.limits import Mask
from core.movement import Dose
from core.plan import Plan, PlanLine
from core.prospects import Prospects
from core.reasons import reason
from core.record import Record
from core.suggestion import Change, Option, Suggestion

FAR_BELOW = 3.0
"""Points under the target down to which another variation still counts as another way to it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Statement:
    """Turns indices of decided doses into suggestions."""

    line: PlanLine
    offered: Doses
    seen: Prospects
    may: Mask
    history: list[Record]
    members: tuple[str, ...]

    def suggestions(self, chosen: NDArray[np.int64]) -> tuple[Suggestion, ...]:
        """One suggestion per member, for the dose decided on."""
        return tuple(self._one(row, int(at)) for row, at in enumerate(chosen))

    def _one(self, row: int, at: int) -> Suggestion:
        record = self.history[row]
        return Suggestion(
            member=self.members[row],
            movement=self.line.movement.name,
            dose=self.offered.dose(at),
            expected_effort=round(float(self.seen.effort[row, at]), 2),
            chance_over_ceiling=round(float(self.seen.over[row, at]), 4),
            change=self._change(record, at),
            reason=reason(record),
            alternative=self._alternative(row, at),
        )

    def _change(self, record: Record, at: int) -> Change:
        """Against what was last really done; against the plan before the first time."""
        movement = self.line.movement
        base = record.last.dose if record.last is not None else self.line.dose
        done = record.done if record.last is not None else base.amount
        rung = movement.rung(base.variation)
        step = int(self.offered.rungs[at]) - rung
        if step:
            return Change.HARDER if step > 0 else Change.EASIER
        load = base.load or 1.0 if self.offered.loaded else 1.0
        ours = float(self.offered.load[at]) * (1 + float(self.offered.amount[at]) / 30)
        theirs = load * (1 + done / 30)
        if abs(ours - theirs) < 1e-9:
            return Change.SAME
        return Change.HARDER if ours > theirs else Change.EASIER

    def _alternative(self, row: int, at: int) -> Dose | None:
        """The best dose on a neighbouring rung; the easier one where both would do."""
        rung = int(self.offered.rungs[at])
        worth = np.where(self.may[row], self.seen.in_range[row], -np.inf)
        for other in (rung - 1, rung + 1):
            there = np.where(self.offered.rungs == other, worth, -np.inf)
            found = int(there.argmax()) if len(there) else 0
            above = self.seen.effort[row, found] - self.line.target
            near = -FAR_BELOW <= above <= rules.HALF_RANGE
            if np.isfinite(there[found]) and near:
                return self.offered.dose(found)
        return None


def options_of(plan: Plan, called: tuple[Suggestion, ...]) -> tuple[Option, ...]:
    """The options that these suggestions amount to, in the plan's order, easiest first."""
    members: dict[tuple[str, Dose], list[str]] = {}
    for each in called:
        members.setdefault((each.movement, each.dose), []).append(each.member)

    def easiest_first(item: tuple[str, Dose]) -> tuple[float, ...]:
        movement, dose = item
        place = next(i for i, line in enumerate(plan.lines) if line.movement.name == movement)
        demand = plan.lines[place].movement.demand(dose.variation)
        return (place, demand, dose.load or 0.0, dose.amount, dose.sets)

    return tuple(
        Option(movement=movement, dose=dose, members=tuple(members[movement, dose]))
        for movement, dose in sorted(members, key=easiest_first)
    )
