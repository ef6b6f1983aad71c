"""How a class was felt is told in numbers that mean something."""

from datetime import date

from bot.words.pitch import class_words, pitch_words
from bot.words.speech import speech_for
from core.pitch import Pitch

EIGHT_RATINGS = Pitch(
    on=date(2026, 9, 17), target=7.0, asked=10, answered=8, present=8, rated=8,
    median=6.25, low=5.875, high=6.0, in_range=5,
)  # fmt: skip


def test_what_a_class_felt_together_has_one_decimal() -> None:
    for words in (pitch_words, class_words):
        told = words(speech_for("en"), EIGHT_RATINGS)
        assert "6.2 in the middle, half of them from 5.9 to 6, aimed at 7" in told
        assert "6,2" in words(speech_for("de"), EIGHT_RATINGS)
