"""Alerts as facts: what each kind is about, and the evidence that it rests on."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from core.movement import Dose
from core.reports import Symptom


class AlertKind(StrEnum):
    """What an alert is about. The values stand in the database."""

    WARNING = "warning sign"
    PAIN = "pain"
    MAXIMAL_CLASSES = "maximal classes"
    """Several of the last answered classes were maximal or held an unfinished movement."""
    MAXIMAL_MOVEMENT = "maximal movement"
    """The same movement was maximal or unfinished twice in a row."""
    FIRST_MAXIMAL = "first class maximal"
    """The only class so far that they answered about was maximal."""
    ABOVE_RANGE = "above range"
    """Classes in a row were rated above the range that was aimed at."""
    BELOW_RANGE = "below range"
    """Classes in a row were rated below it: they are never challenged."""
    QUIET = "quiet"
    """They were asked about classes in a row and said nothing."""
    BACK = "back after a break"
    """They came for the first time after a break."""
    LOAD = "change of load"
    """A week's load was far from that of the weeks before: a plain fact, and no more."""


URGENT = frozenset(
    {
        AlertKind.WARNING,
        AlertKind.PAIN,
        AlertKind.MAXIMAL_CLASSES,
        AlertKind.MAXIMAL_MOVEMENT,
    }
)
"""What the instructors hear at once; the rest can wait for the next digest."""

OF_SYMPTOMS = frozenset({AlertKind.WARNING, AlertKind.PAIN})
"""What was reported, not found: nobody can switch it off, and it takes both sides to clear it."""

OF_MAXIMUM = frozenset(
    {AlertKind.MAXIMAL_CLASSES, AlertKind.MAXIMAL_MOVEMENT, AlertKind.FIRST_MAXIMAL}
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Sighting:
    """One piece of evidence: what was said about which day."""

    on: date
    movement: str | None = None
    """None when it's about the class as a whole."""
    effort: float | None = None
    dose: Dose | None = None
    completed: float | None = None
    reserve: float | None = None
    """What was left, where that is what counts."""
    load: float | None = None
    """Of the week that begins on that day: ratings times minutes, summed."""
    usual: float | None = None
    """The same for an average of the weeks before."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Alert:
    """Something about one member, with its evidence, oldest first."""

    member: str
    kind: AlertKind
    cause: tuple[str, ...]
    """Names what it's about: the same cause is raised once, however often it's found."""
    evidence: tuple[Sighting, ...]
    symptom: Symptom | None = None

    @property
    def urgent(self) -> bool:
        """Whether the instructors hear of it at once."""
        return self.kind in URGENT

    @property
    def days_away(self) -> int:
        """How long a break was, for who is back after one."""
        return (self.evidence[-1].on - self.evidence[0].on).days
