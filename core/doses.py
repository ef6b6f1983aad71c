"""The doses that a movement offers: every variation with every useful amount and load."""

from dataclasses import dataclass, fields
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from core.movement import Dose, Measure
from core.plan import PlanLine

Numbers = NDArray[np.float64]

LIGHTEST, HEAVIEST = 0.2, 3.0
"""Shares of the planned load between which loads are considered."""
MOST_LOADS = 120
"""Loads considered at most, so that a very fine step can't make a room slow."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Doses:
    """Candidate doses of one movement, one entry each, easiest variation first."""

    rungs: NDArray[np.int64]
    demand: Numbers
    """Written demand of the variation."""
    amount: Numbers
    load: Numbers
    """1 where the measure isn't a load."""
    loaded: bool
    sets: int
    names: tuple[str, ...]
    """Of the variations, by rung."""

    def __post_init__(self) -> None:
        """Whoever asks for a line's doses gets the same ones."""
        for each in fields(self):
            value = getattr(self, each.name)
            if isinstance(value, np.ndarray):
                value.setflags(write=False)

    def dose(self, at: int) -> Dose:
        """The candidate at this place."""
        return Dose(
            variation=self.names[self.rungs[at]],
            amount=float(self.amount[at]),
            load=float(self.load[at]) if self.loaded else None,
            sets=self.sets,
        )


@lru_cache(maxsize=1024)
def doses(line: PlanLine) -> Doses:
    """Every dose that the line's movement offers, in friendly numbers."""
    movement = line.movement
    amounts = _multiples(movement.step, movement.smallest, movement.largest)
    loads = _loads(line)
    rungs = np.arange(len(movement.ladder))
    grid = np.meshgrid(rungs, loads, amounts, indexing="ij")
    flat_rungs = grid[0].ravel().astype(np.int64)
    flat_loads, flat_amounts = grid[1].astype(np.float64).ravel(), grid[2].ravel()
    demands = np.array([each.demand for each in movement.ladder])
    return Doses(
        rungs=flat_rungs,
        demand=demands[flat_rungs],
        amount=flat_amounts.astype(np.float64),
        load=flat_loads,
        loaded=movement.measure is Measure.LOAD,
        sets=line.dose.sets,
        names=tuple(each.name for each in movement.ladder),
    )


def _loads(line: PlanLine) -> Numbers:
    movement = line.movement
    if movement.measure is not Measure.LOAD or line.dose.load is None:
        return np.ones(1)
    step = movement.load_step or line.dose.load / 10
    loads = _multiples(step, max(step, LIGHTEST * line.dose.load), HEAVIEST * line.dose.load)
    near = np.argsort(np.abs(np.log(loads / line.dose.load)), kind="stable")[:MOST_LOADS]
    return np.sort(loads[near])


def _multiples(step: float, smallest: float, largest: float) -> Numbers:
    """Multiples of the step in a range; the smallest itself if there are none."""
    first, last = np.ceil(smallest / step - 1e-9), np.floor(largest / step + 1e-9)
    if last < first:
        return np.array([smallest])
    return np.asarray(np.round(np.arange(first, last + 1) * step, 6))
