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


class Cell(Enum):
    """What a square of the instructor's table says; each has a shape and a shade of its own."""

    EASIER = "easier"
    AS_PLANNED = "as planned"
    HARDER = "harder"
    MAXIMAL = "maximal"
    UNRATED = "unrated"
    ABSENT = "absent"
    SILENT = "silent"
    NOT_YET = "not yet"


@dataclass(frozen=True, slots=True, kw_only=True)
class OptionRow:
    """One option of a movement, and those who are given it; positions as in `SpreadRow`."""

    label: str
    at: float
    members: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SpreadRow:
    """One movement: the room's capacities along a line, against at most three options."""

    name: str
    options: tuple[OptionRow, ...]
    """Easiest first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DigestCard:
    """The instructor's picture: members by last classes, capacities against options, or both."""

    title: str
    group: str
    days: tuple[str, ...]
    names: tuple[str, ...]
    cells: tuple[tuple[Cell, ...], ...]
    """A row for each name, a column for each day."""
    cell_labels: tuple[tuple[Cell, str], ...]
    """What the shapes mean; the others mean themselves."""
    spreads_title: str
    spreads: tuple[SpreadRow, ...]
    person_label: str
    option_label: str
    """What a member's mark and what an option's mark mean."""


@dataclass(frozen=True, slots=True, kw_only=True)
class QrCard:
    """A link to be scanned from a wall."""

    link: str
    name: str
    """What stands under it."""


class Direction(Enum):
    """How what somebody does compares with their last time."""

    EASIER = "▾"
    SAME = ""
    HARDER = "▴"


@dataclass(frozen=True, slots=True, kw_only=True)
class HandoutMovement:
    """One movement in the legend of the printed page."""

    name: str
    options: tuple[str, ...]
    """Easiest first; a column of the table holds their numbers."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HandoutRow:
    """One member's line."""

    name: str
    cells: tuple[tuple[int | None, Direction], ...]
    """For each movement the number of their option, from 1 on; None if they do none."""
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Handout:
    """The page to print: what is called out, and who does which."""

    title: str
    when: str
    lines: tuple[str, ...]
    """What there is to know about the whole room."""
    movements: tuple[HandoutMovement, ...]
    rows: tuple[HandoutRow, ...]
    name_label: str
    note_label: str
    legend: str
    """What the numbers and triangles in the table mean."""


Card = ProgressCard | DigestCard | QrCard | Handout
"""Whatever can be drawn."""
