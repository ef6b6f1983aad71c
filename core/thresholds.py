"""From when on a group's instructors want to be told, and how long answers are kept."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from enum import StrEnum

from core import rules


class Threshold(StrEnum):
    """What can be changed. The values stand in buttons and in the database."""

    MAXIMAL = "maximal"
    """Maximal classes among the last three answered ones, or maximal bouts of one movement in a
    row."""
    FIRST = "first"
    """Whether a first class at the maximum is told: 1 or 0."""
    ABOVE = "above"
    """Classes in a row above the range."""
    BELOW = "below"
    """Classes in a row below the range."""
    QUIET = "quiet"
    """Classes in a row without an answer."""
    BREAK = "break"
    """Days since the class before."""
    LOAD = "load"
    """Percent by which a week's load differs from the weeks before."""
    KEPT = "kept"
    """Months for which what was said about a class is kept."""


CHOICES: Mapping[Threshold, tuple[int, ...]] = {
    Threshold.MAXIMAL: (2, 3),
    Threshold.FIRST: (1, 0),
    Threshold.ABOVE: (2, 3, 4, 0),
    Threshold.BELOW: (2, 3, 4, 0),
    Threshold.QUIET: (2, 3, 4, 0),
    Threshold.BREAK: (14, 21, 28, 0),
    Threshold.LOAD: (30, 50, 100, 0),
    Threshold.KEPT: (6, 12, 24, 36, 60),
}
"""What may be chosen; 0 is never. Who keeps going to the maximum is always told, sooner or later,
and so are pain and warning signs, at once."""

DEFAULTS: Mapping[Threshold, int] = {
    Threshold.MAXIMAL: rules.MAXIMAL_SIGHTINGS,
    Threshold.FIRST: 1,
    Threshold.ABOVE: rules.CLASSES_OUT_OF_RANGE,
    Threshold.BELOW: rules.CLASSES_OUT_OF_RANGE,
    Threshold.QUIET: rules.CLASSES_QUIET,
    Threshold.BREAK: rules.BREAK_DAYS,
    Threshold.LOAD: round(100 * rules.LARGE_CHANGE_OF_LOAD),
    Threshold.KEPT: rules.MONTHS_KEPT,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Thresholds:
    """One group's numbers; 0 means that this is never told."""

    chosen: tuple[tuple[Threshold, int], ...] = ()
    """Only what differs from the defaults, or was chosen to stay."""

    def of(self, threshold: Threshold) -> int:
        """The number that holds."""
        return dict(self.chosen).get(threshold, DEFAULTS[threshold])

    def with_(self, threshold: Threshold, value: int) -> "Thresholds":
        """The same with one number changed; ValueError for one that can't be chosen."""
        if value not in CHOICES[threshold]:
            raise ValueError(f"{threshold} can't be {value}")
        return replace(self, chosen=tuple((dict(self.chosen) | {threshold: value}).items()))
