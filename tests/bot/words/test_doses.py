"""Doses read as an instructor would call them out."""

import pytest

from bot.words.doses import amount_words, dose_words
from bot.words.printed import ENGLISH
from core.movement import Dose, Measure, Movement, Variation


def movement(measure: Measure, *names: str) -> Movement:
    ladder = tuple(Variation(name=name, demand=1 + i) for i, name in enumerate(names))
    return Movement(
        name="Any",
        measure=measure,
        ladder=ladder,
        standard=names[0],
        smallest=1,
        largest=60,
        step=1,
    )


@pytest.mark.parametrize(
    ("measure", "dose", "told"),
    [
        (Measure.HOLD, Dose(variation="a", amount=30, sets=2), "2 × 30 s, a"),
        (Measure.HOLD, Dose(variation="b", amount=30), "30 s, b"),
        (Measure.REPS, Dose(variation="a", amount=8, sets=2), "2 × 8 reps, a"),
        (Measure.REPS, Dose(variation="a", amount=8), "8 reps, a"),
        (Measure.LOAD, Dose(variation="a", amount=8, load=20, sets=2), "2 × 8 reps with 20 kg, a"),
        (Measure.LOAD, Dose(variation="a", amount=8, load=1.25), "8 reps with 1.25 kg, a"),
        (Measure.MINUTES, Dose(variation="a", amount=12.5), "12.5 min, a"),
    ],
)
def test_a_dose_names_sets_amount_load_and_variation(
    measure: Measure, dose: Dose, told: str
) -> None:
    assert dose_words(ENGLISH, dose, movement(measure, "a", "b")) == told


def test_a_ladder_of_one_has_no_variation_to_name() -> None:
    dose = Dose(variation="a", amount=8, load=20, sets=2)
    assert dose_words(ENGLISH, dose, movement(Measure.LOAD, "a")) == "2 × 8 reps with 20 kg"


def test_one_repetition_is_not_plural() -> None:
    assert amount_words(ENGLISH, 1, Measure.REPS) == "1 rep"
    assert amount_words(ENGLISH, 0, Measure.LOAD) == "0 reps"


@pytest.mark.parametrize(
    ("number", "told"),
    [(20.0, "20"), (22.5, "22.5"), (1.25, "1.25"), (100, "100"), (0, "0"), (-0.001, "0")],
)
def test_numbers_are_short(number: float, told: str) -> None:
    assert ENGLISH.number(number) == told
