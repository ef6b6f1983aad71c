"""Doses are understood as people write them, or not at all."""

import pytest

from bot.words.typed_doses import TypedDose, read_dose


@pytest.mark.parametrize(
    ("text", "dose"),
    [
        ("45", TypedDose(amount=45)),
        ("45 s", TypedDose(amount=45)),
        ("2 x 30", TypedDose(sets=2, amount=30)),
        ("2×30 Sek.", TypedDose(sets=2, amount=30)),
        ("2 sets of 30", TypedDose(sets=2, amount=30)),
        ("3 mal 8 mit 22,5 kg", TypedDose(sets=3, amount=8, load=22.5)),
        ("3 x 8 x 20", TypedDose(sets=3, amount=8, load=20)),
        ("3 series de 8 con 20 kg", TypedDose(sets=3, amount=8, load=20)),
        ("8 reps, 12 kg", TypedDose(amount=8, load=12)),
        ("20 kg", TypedDose(load=20)),
    ],
)
def test_as_much_of_a_dose_as_was_written(text: str, dose: TypedDose) -> None:
    assert read_dose(text) == dose


@pytest.mark.parametrize("text", ["", "abc", "2 x", "-3", "1e5", "٣", "3 x 8 x 20 x 4", "20 lbs"])
def test_what_is_no_dose(text: str) -> None:
    assert read_dose(text) is None
