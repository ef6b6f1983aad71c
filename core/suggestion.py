"""What each member should do next class, why, and the other way to get there."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from core.movement import Dose


class Change(StrEnum):
    """How a suggestion compares with what this member last did."""

    EASIER = "easier"
    SAME = "same"
    HARDER = "harder"


class ReasonKind(StrEnum):
    """Which piece of evidence carries a suggestion."""

    NOT_KNOWN = "not known"
    """Nothing is known of this member here yet: the plan's easier start."""
    ESTIMATE = "estimate"
    """A starting estimate."""
    RATING = "rating"
    """Their last rating of this movement."""
    RESERVE = "reserve"
    """What they had left last time."""
    UNFINISHED = "unfinished"
    """They stopped before the end of the dose."""
    OTHERS = "other movements"
    """Their answers about other movements or the whole class."""
    PAIN = "pain"
    """Pain or a warning sign that isn't cleared."""
    BREAK = "break"
    """They come back after a break."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reason:
    """Why, as facts; the sentence is made where people read it."""

    kind: ReasonKind
    on: date | None = None
    """Day of the session that it refers to; None where there is none."""
    dose: Dose | None = None
    """What they did then."""
    effort: float | None = None
    completed: float | None = None
    reserve: float | None = None
    days_away: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Suggestion:
    """What one member should do of one movement next class."""

    member: str
    movement: str
    dose: Dose
    expected_effort: float
    """0 to 10, as this member would rate it without bias."""
    chance_over_ceiling: float
    """0 to 1."""
    change: Change
    reason: Reason
    alternative: Dose | None = None
    """The other way to about the same effort; None if the ladder offers none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Option:
    """One of at most three doses per movement that the instructor calls out."""

    movement: str
    dose: Dose
    members: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Ask:
    """Which movements this member should be asked about after class, most useful first."""

    member: str
    movements: tuple[str, ...]
    reserve: tuple[str, ...] = ()
    """Those of them where the question about the reserve is worth its tap."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Advice:
    """Everything that the answers say about a group's next session."""

    suggestions: tuple[Suggestion, ...]
    """Each member's own best, one per member and movement of the plan."""
    options: tuple[Option, ...]
    """What the room does: at most three per movement, each member in exactly one."""
    called: tuple[Suggestion, ...]
    """The same as suggestions, for the option that each member belongs to."""
    asks: tuple[Ask, ...]
