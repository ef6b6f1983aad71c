"""Reasons name the evidence in one plain line, to the member and about the member."""

from dataclasses import replace

import pytest

from bot.words.printed import ENGLISH
from bot.words.reasons import ABOUT_THEM, TO_THEM, Saying, because, because_of
from core.movement import Dose, Measure, Movement, Variation
from core.suggestion import Change, Reason, ReasonKind, Suggestion

HOLD = Movement(
    name="Side plank",
    measure=Measure.HOLD,
    ladder=(Variation(name="knees bent", demand=0.6), Variation(name="feet stacked", demand=1.0)),
    standard="feet stacked",
    smallest=10,
    largest=60,
    step=5,
)
PRESS = Movement(
    name="Press",
    measure=Measure.LOAD,
    ladder=(Variation(name="standing", demand=1.0),),
    standard="standing",
    smallest=4,
    largest=12,
    step=1,
    load_step=2.5,
)
A_MINUTE = Dose(variation="feet stacked", amount=60, sets=2)


def suggestion(reason: Reason, movement: Movement = HOLD) -> Suggestion:
    dose = Dose(variation=movement.standard, amount=movement.smallest)
    return Suggestion(
        member="m1",
        movement=movement.name,
        dose=dose,
        expected_effort=7,
        chance_over_ceiling=0.02,
        change=Change.EASIER,
        reason=reason,
    )


@pytest.mark.parametrize(
    ("reason", "told", "about"),
    [
        (
            Reason(kind=ReasonKind.UNFINISHED, dose=A_MINUTE, effort=10, completed=45),
            "You rated 10 at 60 s and stopped at 45 s.",
            "Ana rated 10 at 60 s and stopped at 45 s.",
        ),
        (
            Reason(kind=ReasonKind.UNFINISHED, dose=A_MINUTE, completed=45),
            "You stopped at 45 of 60 s.",
            "Ana stopped at 45 of 60 s.",
        ),
        (
            Reason(kind=ReasonKind.UNFINISHED, dose=A_MINUTE, effort=10),
            "You stopped before the end of 60 s.",
            "Ana stopped before the end of 60 s.",
        ),
        (
            Reason(kind=ReasonKind.RATING, dose=A_MINUTE, effort=7.5),
            "You rated 7.5 at 60 s.",
            "Ana rated 7.5 at 60 s.",
        ),
        (
            Reason(kind=ReasonKind.RATING, dose=A_MINUTE),
            "You did 60 s and didn't rate it.",
            "Ana did 60 s and didn't rate it.",
        ),
        (
            Reason(kind=ReasonKind.RESERVE, dose=A_MINUTE, effort=6, reserve=20),
            "You did 60 s and had 20 s left.",
            "Ana did 60 s and had 20 s left.",
        ),
        (
            Reason(kind=ReasonKind.BREAK, days_away=21),
            "You were away for 21 days, so it starts easier than where you were.",
            "Ana was away for 21 days, so it starts easier than before.",
        ),
        (
            Reason(kind=ReasonKind.NOT_KNOWN),
            "Nothing is known of you here yet, so it starts on the easy side.",
            "Nothing is known of Ana here yet, so it starts on the easy side.",
        ),
    ],
)
def test_a_reason_names_its_evidence(reason: Reason, told: str, about: str) -> None:
    assert because(ENGLISH, suggestion(reason), HOLD) == told
    assert because_of(ENGLISH, suggestion(reason), HOLD, "Ana") == about


def test_a_variation_is_named_when_it_is_not_the_one_suggested_now() -> None:
    reason = Reason(
        kind=ReasonKind.RATING, dose=replace(A_MINUTE, variation="knees bent"), effort=6
    )
    assert because(ENGLISH, suggestion(reason), HOLD) == "You rated 6 at 60 s (knees bent)."


def test_loads_are_named_with_their_repetitions() -> None:
    dose = Dose(variation="standing", amount=8, load=22.5)
    reason = Reason(kind=ReasonKind.RESERVE, dose=dose, effort=8, reserve=1)
    told = because(ENGLISH, suggestion(reason, PRESS), PRESS)
    assert told == "You did 8 reps with 22.5 kg and had 1 rep left."


def test_a_name_is_never_taken_for_part_of_the_sentence() -> None:
    reason = Reason(kind=ReasonKind.RATING, dose=A_MINUTE, effort=7)
    told = because_of(ENGLISH, suggestion(reason), HOLD, "{effort}{0}")
    assert told == "{effort}{0} rated 7 at 60 s."


@pytest.mark.parametrize("kind", ReasonKind)
def test_every_kind_of_reason_has_a_sentence_even_without_its_facts(kind: ReasonKind) -> None:
    for told in (
        because(ENGLISH, suggestion(Reason(kind=kind)), HOLD),
        because_of(ENGLISH, suggestion(Reason(kind=kind)), HOLD, "Ana"),
    ):
        assert told.endswith(".")
        assert "None" not in told
        assert "  " not in told


def test_every_sentence_exists_for_both_readers() -> None:
    assert set(TO_THEM) == set(ABOUT_THEM) == set(Saying)
