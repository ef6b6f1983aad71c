"""The scale in words."""

from collections.abc import Mapping

from bot.words.speech import Html, Speech, later, lines, small
from core.effort import anchor, heart_rate, to_6_20

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
RATED = (3, 5, 7)
"""The points that come with a heart rate; above them few people's hearts beat as fast as that."""


def scale_line(speech: Speech) -> Html:
    """The scale on one line, for under a question; with a second one for who wants heart rates."""
    words = (f"{speech.rating(point)} {speech.label(POINTS[point])}" for point in SHOWN)
    rates = small(heart_rate_line(speech)) if speech.heart_rate else None
    return lines(small(" · ".join(words)), rates)


def heart_rate_line(speech: Speech) -> Html:
    """Heart rates that go with three points of the scale: ten times the rating from 6 to 20.

    "Only an approximation" (American Heart Association, citing Borg 1998).
    """
    easy, middle, hard = RATED
    return speech.text(
        "Heart rate, only an approximation: {easy} is about {easy_rate} beats a minute, {middle} "
        "about {middle_rate}, {hard} about {hard_rate}.",
        easy=speech.rating(easy),
        easy_rate=speech.number(heart_rate(to_6_20(easy))),
        middle=speech.rating(middle),
        middle_rate=speech.number(heart_rate(to_6_20(middle))),
        hard=speech.rating(hard),
        hard_rate=speech.number(heart_rate(to_6_20(hard))),
    )


def rating_words(speech: Speech, rating: float) -> str:
    """A rating with what it means, such as `7.5 (very hard but in control)`."""
    return f"{speech.rating(rating)} ({speech.label(POINTS[anchor(rating)])})"
