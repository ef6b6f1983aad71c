"""Simulated members: hidden capacities, a personal way of rating, and habits of answering."""

from dataclasses import dataclass, field, replace

import numpy as np

from core.movement import Dose, Measure, Movement
from core.plan import Plan
from demo_script.bodies import Law, can_just_do, effort_of

SPREAD = {Measure.HOLD: 0.55, Measure.REPS: 0.45, Measure.LOAD: 0.3, Measure.MINUTES: 0.5}
"""Log spread of capacity between people. Forearm plank: 124 ± 72 s and 83 ± 63 s (Strand et al.
2014, J Hum Kinet 40:93); the others are plausible values of our own."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Nature:
    """How people are in general; the defaults are published or plausible values."""

    law: Law = Law.PUBLISHED
    bias_sd: float = 1.0
    """Points of effort between people at failure: about 1.1, from an open data file."""
    noise_sd: float = 0.75
    """Points within a person: 0.64 to 0.85 (Steele et al. 2017, J Trainology 6:1)."""
    new_noise_sd: float = 1.0
    """The same in the first three classes: 1.03 to 1.25 against a trainer (same source)."""
    slips: float = 0.05
    """Share of ratings that are a slip of the thumb: anything from 0 to 10."""
    day_to_day: float = 0.065
    """Log variation of capacity between days: 5 to 8 % (from memory)."""
    growth: float = 0.008
    """Mean log growth of capacity per class attended."""
    likeness: float = 0.65
    """Correlation of one person's log capacities on two movements."""
    demand_error: float = 0.1
    """Log error of the demands written in a plan."""
    estimate_sd: float = 0.3
    """Log error of what people think they could do."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Performance:
    """What really happened in one bout, and what this member would say about it."""

    true_effort: float
    """0 to 10, without bias or noise."""
    rating: int
    completed: float | None
    """Where they stopped; None if the whole dose was done."""
    reserve: float
    """What they think was left, in the measure's unit."""


@dataclass(slots=True, kw_only=True)
class SimulatedMember:
    """One person. Everything random comes from the seeded generator they were made with."""

    name: str
    nature: Nature
    luck: np.random.Generator
    capacity: dict[str, float]
    """Hidden: what they could just do of each movement's standard variation; for loads, the load
    that could be lifted once."""
    movements: dict[str, Movement]
    """With the demands as they truly are, not as the plan has them."""
    bias: float
    understates: float
    """Repetitions by which this member understates what is left."""
    attends: float = 0.85
    answers: float = 0.75
    growth: float = 0.0
    classes: int = field(default=0)

    def oracle_effort(self, movement: str, dose: Dose) -> float:
        """Effort of a dose on an average day: hidden from everybody but an oracle."""
        truth = self.movements[movement]
        return effort_of(truth, dose, self.capacity[movement], self.nature.law)

    def can_just_do(self, movement: str, dose: Dose) -> float:
        """What would just be possible on an average day of this variation, and load: hidden too."""
        truth = self.movements[movement]
        return can_just_do(truth, dose, self.capacity[movement], self.nature.law)

    def perform(self, movement: str, dose: Dose) -> Performance:
        """Do one bout as far as possible, today."""
        truth = self.movements[movement]
        variation = self.nature.day_to_day * (0.4 if truth.measure is Measure.LOAD else 1.0)
        today = self.capacity[movement] * np.exp(self.luck.normal(0, variation))
        felt = effort_of(truth, dose, today, self.nature.law)
        most = can_just_do(truth, dose, today, self.nature.law)
        completed = float(max(np.floor(most), 0.0)) if felt > 10 else None
        if completed is not None and completed >= dose.amount:
            completed = max(dose.amount - 1, 0.0)
        true_effort = float(np.clip(felt, 0, 10))
        return Performance(
            true_effort=true_effort,
            rating=self.rate(true_effort),
            completed=completed,
            reserve=self._reserve(truth, dose, most),
        )

    def rate(self, true_effort: float) -> int:
        """The number they tap for this effort."""
        if self.luck.random() < self.nature.slips:
            return int(self.luck.integers(0, 11))
        new = self.classes <= 3
        noise = self.luck.normal(0, self.nature.new_noise_sd if new else self.nature.noise_sd)
        return int(np.clip(np.round(true_effort + self.bias + noise), 0, 10))

    def guess(self, movement: str) -> float:
        """What they think they could just do of the standard variation, or lift once."""
        sd = self.nature.estimate_sd
        if self.movements[movement].measure is Measure.LOAD:
            sd *= 0.4
        return float(self.capacity[movement] * np.exp(self.luck.normal(0, sd)))

    def comes(self) -> bool:
        """Whether they come to the next class; who comes gets a little stronger."""
        if self.luck.random() >= self.attends:
            return False
        self.classes += 1
        for name, movement in self.movements.items():
            slower = 0.5 if movement.measure is Measure.LOAD else 1.0
            self.capacity[name] *= float(np.exp(slower * self.growth))
        return True

    def replies(self) -> bool:
        """Whether they answer the questions after this class."""
        return bool(self.luck.random() < self.answers)

    def _reserve(self, truth: Movement, dose: Dose, most: float) -> float:
        """Understated by about one repetition and the vaguer the more is left.

        Halperin et al. 2022 and Hackett et al. 2017; a repetition of a hold is taken as 4 s, and
        one of steady work as a tenth of the possible minutes.
        """
        one = {Measure.HOLD: 4.0, Measure.MINUTES: most / 10}.get(truth.measure, 1.0)
        left = max(most - dose.amount, 0.0)
        said = left - self.understates * one + self.luck.normal(0, 0.8 * one + 0.25 * left)
        unit = 5.0 if truth.measure is Measure.HOLD else 1.0
        return float(max(np.round(said / unit) * unit, 0.0))


def make_member(
    name: str,
    plan: Plan,
    truth: dict[str, Movement],
    nature: Nature,
    luck: np.random.Generator,
    group_offset: dict[str, float],
) -> SimulatedMember:
    """One person of a class: alike on all movements, and different from everybody else."""
    own = luck.normal()
    capacity = {}
    for line in plan.lines:
        movement = line.movement
        alike = np.sqrt(nature.likeness) * own + np.sqrt(1 - nature.likeness) * luck.normal()
        middle = middling_capacity(truth[movement.name], line.dose, line.target, nature.law)
        log = group_offset[movement.name] + SPREAD[movement.measure] * alike
        capacity[movement.name] = float(middle * np.exp(log))
    return SimulatedMember(
        name=name,
        nature=nature,
        luck=luck,
        capacity=capacity,
        movements=truth,
        bias=float(luck.normal(0, nature.bias_sd)),
        understates=float(luck.normal(0.95, 0.6)),
        growth=float(nature.growth * luck.uniform(0, 2)),
    )


def make_class(
    names: tuple[str, ...], plan: Plan, nature: Nature, luck: np.random.Generator
) -> tuple[SimulatedMember, ...]:
    """A whole class, with the demands of its movements as they truly are for these people."""
    truth = {line.movement.name: true_ladder(line.movement, nature, luck) for line in plan.lines}
    overall = luck.normal(0, 0.2)
    offsets = {
        line.movement.name: (overall + luck.normal(0, 0.15))
        * (0.5 if line.movement.measure is Measure.LOAD else 1.0)
        for line in plan.lines
    }
    return tuple(
        make_member(name, plan, truth, nature, np.random.default_rng(luck.integers(2**63)), offsets)
        for name in names
    )


def true_ladder(movement: Movement, nature: Nature, luck: np.random.Generator) -> Movement:
    """The same movement with each demand but the standard one's off by about ten percent."""
    ladder = tuple(
        each
        if each.name == movement.standard
        else replace(each, demand=each.demand * float(np.exp(luck.normal(0, nature.demand_error))))
        for each in movement.ladder
    )
    return replace(movement, ladder=ladder)


def middling_capacity(movement: Movement, dose: Dose, target: float, law: Law) -> float:
    """The capacity for which this dose is exactly on target: whom the plan was made for."""
    low, high = 1e-3, 1e4
    while high / low > 1 + 1e-9:
        middle = float(np.sqrt(low * high))
        if effort_of(movement, dose, middle, law) > target:
            low = middle
        else:
            high = middle
    return high
