"""Movements, their ladders of variations, and doses: what can be done, and how much of it."""

from dataclasses import dataclass
from enum import StrEnum


class Measure(StrEnum):
    """What a movement's amount counts."""

    HOLD = "hold"
    """Seconds a position is held."""
    REPS = "reps"
    """Repetitions against body weight or a fixed resistance."""
    LOAD = "load"
    """Repetitions against a load in kilograms, which changes too."""
    MINUTES = "minutes"
    """Minutes of steady work; its intensity changes by variation."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Variation:
    """One version of a movement."""

    name: str
    demand: float
    """Share of the standard variation's demand (standard = 1.0), above zero."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Dose:
    """How much of which variation: one set's amount, times sets."""

    variation: str
    amount: float
    """Seconds, repetitions or minutes of one set, as the movement's measure says."""
    load: float | None = None
    """Kilograms; None where the measure isn't a load."""
    sets: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Movement:
    """An exercise or pose with its ladder, and what amounts of it make sense."""

    name: str
    measure: Measure
    ladder: tuple[Variation, ...]
    """Easiest first, at least one."""
    standard: str
    """Name of the variation with demand 1.0."""
    smallest: float
    """Smallest useful amount of one set, in the measure's unit."""
    largest: float
    """Largest useful amount of one set, in the measure's unit."""
    step: float
    """What amounts are rounded to, in the measure's unit."""
    load_step: float | None = None
    """What loads are rounded to, in kilograms; None where the measure isn't a load."""

    def rung(self, variation: str) -> int:
        """Place of a variation on the ladder, 0 for the easiest; ValueError if it isn't there."""
        for place, each in enumerate(self.ladder):
            if each.name == variation:
                return place
        raise ValueError(f"{self.name} has no variation {variation!r}")

    def demand(self, variation: str) -> float:
        """Demand of a variation as a share of the standard one's."""
        return self.ladder[self.rung(variation)].demand
