"""The scale in words."""

from collections.abc import Mapping

from bot.words.speech import Html, Speech, later, small
from core.effort import anchor

POINTS: Mapping[int, str] = {
    0: later("nothing"),
    1: later("barely there"),
    2: later("easy"),
    3: later("moderate"),
    4: later("getting warm"),
    5: later("hard"),
    7: later("very hard but in control"),
    9: later("almost nothing left"),
    10: later("could not have done one more"),
}
SHOWN = (0, 3, 5, 7, 9, 10)
"""Enough of them to rate by; the others are in between."""


def scale_line(speech: Speech) -> Html:
    """The scale on one line, for under a question."""
    return small(" · ".join(f"{point} {speech.label(POINTS[point])}" for point in SHOWN))


def rating_words(speech: Speech, rating: float) -> str:
    """A rating with what it means, such as `7.5 (very hard but in control)`."""
    return f"{speech.number(rating)} ({speech.label(POINTS[anchor(rating)])})"
