"""What pictures are made of: numbers to place, and labels in the language of who gets them."""

from dataclasses import dataclass
from enum import Enum


class Against(Enum):
    """How something lies against what was aimed at; each has a shape and a colour of its own."""

    BELOW = "below"
    WITHIN = "within"
    ABOVE = "above"


@dataclass(frozen=True, slots=True, kw_only=True)
class RatingMark:
    """One rated class."""

    day: str
    effort: float
    """0 to 10."""
    number: str
    """The effort as this person writes numbers."""
    against: Against
    after_break: bool
    """Whether no line leads to it from the class before."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StandingRow:
    """One movement's line with its ladder; positions are in whatever unit all of the row are."""

    name: str
    variation: str | None
    """What the amounts are of; None if there is only one."""
    amounts: str
    steps: tuple[tuple[str, float], ...]
    """Each rung's name and position."""
    low: float
    middle: float
    high: float
    began: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class ProgressCard:
    """A member's picture."""

    title: str
    group: str
    ratings_title: str
    ratings: tuple[RatingMark, ...]
    scale: tuple[tuple[float, str], ...]
    """Points of the scale to be named, 0 to 10, with the numbers that this person rates with."""
    low: float
    high: float
    """The range aimed at."""
    range_label: str
    against_labels: tuple[tuple[Against, str], ...]
    """What the three shapes mean."""
    standings_title: str
    standings: tuple[StandingRow, ...]
    now_label: str
    began_label: str
    step_label: str
    """What a numbered mark on a line means."""
    note: str | None
    """What is knowingly left out, or not known yet."""
