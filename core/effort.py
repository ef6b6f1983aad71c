"""The effort scale and the only place that says what its numbers mean."""

import math
import re
import unicodedata
from bisect import bisect_right
from collections.abc import Mapping
from enum import StrEnum
from itertools import pairwise
from types import MappingProxyType

from core.rules import HALF_RANGE

LOWEST = 0.0
MAXIMUM = 10.0

WORDS: Mapping[int, str] = MappingProxyType(
    {
        0: "nothing",
        1: "barely there",
        2: "easy",
        3: "moderate",
        4: "getting warm",
        5: "hard",
        7: "very hard but in control",
        9: "almost nothing left",
        10: "could not have done one more",
    }
)
"""Our own words. 6 and 8 have none on purpose: they are what lies between two words."""


class Scale(StrEnum):
    """The numbers that a person rates with. What is kept is always on our own scale."""

    TEN = "0-10"
    TWENTY = "6-20"


class Band(StrEnum):
    """How the public guidelines sort effort."""

    LIGHT = "light"
    MODERATE = "moderate"
    VIGOROUS = "vigorous"


MODERATE_FROM = 5.0
"""Physical Activity Guidelines for Americans, 2nd edition (2018): moderate is 5 to 6."""
VIGOROUS_FROM = 7.0
"""The same: vigorous begins at 7 to 8; we take the lower end."""

BY_WORDS = (
    (0.0, 6.0),
    (1.0, 8.0),
    (2.0, 10.0),
    (3.0, 12.0),
    (4.0, 13.0),
    (5.0, 15.0),
    (7.0, 17.0),
    (9.0, 19.0),
    (10.0, 20.0),
)
"""Our scale against 6 to 20 where the words agree: 13 somewhat hard, 15 hard, 17 very hard, 19
extremely hard, 20 maximal (Borg 1998, words from a secondary page); straight lines between."""

RESERVE_TABLE = ((10.0, 0.0), (9.0, 1.0), (8.0, 2.0), (7.0, 3.0), (6.0, 4.0), (5.0, 6.0))
"""Effort against repetitions in reserve.

10 to 7: Zourdos et al. 2016, J Strength Cond Res 30:267. 6 and 5: the ends of "5-6 is 4 to 6
left", Helms et al. 2016, Strength Cond J 38:42 (from memory).
"""

_RATING = re.compile(r"(\d{1,3}(?:[.,٫]\d{1,2})?)\s*(?:/\s*(\d{2})|([%٪]))?")
_KEYCAP = str.maketrans("", "", "\ufe0f\u20e3")  # what turns a digit into a picture of a key


def anchor(rating: float) -> int:
    """The highest worded point not above this rating, so that words never overstate it."""
    points = tuple(WORDS)
    return points[max(bisect_right(points, rating) - 1, 0)]


def word(rating: float) -> str:
    """What this rating means, in the words of the nearest point not above it."""
    return WORDS[anchor(rating)]


def band(rating: float) -> Band:
    """How the public guidelines would call a rating; a half point belongs to the band below it."""
    if rating >= VIGOROUS_FROM:
        return Band.VIGOROUS
    return Band.MODERATE if rating >= MODERATE_FROM else Band.LIGHT


def in_range(rating: float, target: float) -> bool:
    """Whether a rating met the target, 6 to 8 around 7; both ends count."""
    return abs(rating - target) <= HALF_RANGE


def read_rating(text: str) -> float | None:
    """A rating as people type it: `7`, `7.5`, `7,5`, `7/10`, `70 %`; None if it is anything else.

    What was typed is kept to one decimal. Out of range is None too.
    """
    number, whole, percent = _parts(text)
    if number is None or whole not in (None, 10):
        return None
    rating = number / 10 if percent else number
    return round(rating, 1) if rating <= MAXIMUM else None


def read_rating_6_20(text: str) -> float | None:
    """A rating typed by someone who uses 6 to 20 (`15`, `15/20`), as it is on our scale."""
    number = read_6_20(text)
    return None if number is None else round(from_6_20(number), 1)


def read_6_20(text: str) -> float | None:
    """The same as it was typed."""
    number, whole, percent = _parts(text)
    if number is None or whole not in (None, 20) or percent or not 6 <= number <= 20:
        return None
    return number


def read_rating_on(scale: Scale, text: str) -> tuple[float, float | None] | None:
    """A rating as it is on our scale, and as it was given if that was on the one from 6 to 20.

    A number alone means the scale on screen; one that says what it is out of means just that.
    """
    _, whole, percent = _parts(text)
    if whole == 20 or (scale is Scale.TWENTY and whole is None and not percent):
        theirs = read_6_20(text)
        return None if theirs is None else (round(from_6_20(theirs), 1), theirs)
    ours = read_rating(text)
    return None if ours is None else (ours, None)


def _parts(text: str) -> tuple[float | None, int | None, bool]:
    """The number, what it is out of, and whether it is a percentage; digits of any script."""
    plain = unicodedata.normalize("NFKC", text.translate(_KEYCAP)).strip()
    found = _RATING.fullmatch(plain)
    if found is None:
        return None, None, False
    number = float(found[1].replace(",", ".").replace("٫", "."))
    return number, int(found[2]) if found[2] else None, found[3] is not None


def to_6_20(rating: float) -> float:
    """Our scale to 6 to 20 **by words**; monotone and invertible, clamped at both ends."""
    return _interpolate(rating, BY_WORDS)


def from_6_20(rating: float) -> float:
    """6 to 20 to our scale **by words**; undoes `to_6_20`."""
    return _interpolate(rating, tuple((theirs, ours) for ours, theirs in BY_WORDS))


def borg_from_cr10(cr10: float) -> float:
    """6 to 20 from a category-ratio rating: 6 + 2.8 (CR10 - 0.3)^0.79 (E. Borg, n = 32).

    Passes 20 above about 8 and is not defined below 0.3, so it is clamped there. It belongs to
    the category-ratio words and stands here for comparison; answers are converted by words.
    """
    return min(6 + 2.8 * math.pow(max(cr10 - 0.3, 0.0), 0.79), 20.0)


def cr10_from_borg(rating: float) -> float:
    """Undoes `borg_from_cr10` between 6 and 20."""
    return 0.3 + math.pow((min(max(rating, 6.0), 20.0) - 6) / 2.8, 1 / 0.79)


def heart_rate(rating_6_20: float) -> float:
    """Beats per minute that go with a 6 to 20 rating: ten times it.

    "Only an approximation" (American Heart Association, citing Borg 1998), and wrong for whoever
    takes medicine that lowers the heart rate.
    """
    return 10 * rating_6_20


def highest_heart_rate_fox(age: float) -> float:
    """220 - age in years (Fox 1971), beats per minute; standard error 12.4 in 762 adults."""
    return 220 - age


def highest_heart_rate_tanaka(age: float) -> float:
    """208 - 0.7 age in years (Tanaka 2001), beats per minute; standard error 11.4 in 762 adults."""
    return 208 - 0.7 * age


def reserve_at(effort: float) -> float | None:
    """Repetitions left at an effort; None below 5, where the table doesn't say.

    A half stands for "no more repetition, but a little more load" (Helms et al. 2016, at 9.5).
    """
    if effort < RESERVE_TABLE[-1][0]:
        return None
    return _interpolate(effort, RESERVE_TABLE[::-1])


def effort_at(reserve: float) -> float | None:
    """Effort at which so many repetitions are left; None above 6, where the table doesn't say."""
    if reserve > RESERVE_TABLE[-1][1]:
        return None
    return _interpolate(reserve, tuple((left, effort) for effort, left in RESERVE_TABLE))


def _interpolate(value: float, points: tuple[tuple[float, float], ...]) -> float:
    """Straight lines through points in ascending order of their first value, clamped."""
    if value <= points[0][0]:
        return points[0][1]
    for (left, low), (right, high) in pairwise(points):
        if value <= right:
            return low + (high - low) * (value - left) / (right - left)
    return points[-1][1]
