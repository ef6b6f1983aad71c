"""Plans: the movements of a session, each with the dose and target meant for the whole room."""

from dataclasses import dataclass

from core.movement import Dose, Movement


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanLine:
    """One movement of the plan, with what everybody would do if nobody were different."""

    movement: Movement
    dose: Dose
    target: float
    """Effort aimed at, 0 to 10."""
    ceiling: float
    """Effort that must not be passed, 0 to 10, above the target."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """What a session consists of, in the order of the class."""

    lines: tuple[PlanLine, ...]
    """Each movement once."""
    minutes: float
    """Length of the whole session."""
    target: float
    """Effort aimed at for the session as a whole, 0 to 10."""
    ceiling: float

    def line(self, movement: str) -> PlanLine | None:
        """The line of that movement; None if this plan doesn't have it."""
        return next((line for line in self.lines if line.movement.name == movement), None)
