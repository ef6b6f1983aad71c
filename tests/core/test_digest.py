"""The digest holds what the instructor needs before class, and explains only what it can."""

from datetime import UTC, date, datetime

import pytest

from core.digest import Before, prepare_digest
from core.movement import Dose, Measure, Movement, Variation
from core.pitch import pitch_of
from core.plan import Plan, PlanLine
from core.reports import Reports, SessionRating
from core.stating import options_of
from core.suggestion import Advice, Change, Reason, ReasonKind, Suggestion

ON, LAST = date(2026, 3, 9), date(2026, 3, 2)
PLANK = Movement(
    name="Side plank",
    measure=Measure.HOLD,
    ladder=(Variation(name="knees bent", demand=0.6), Variation(name="feet stacked", demand=1.0)),
    standard="feet stacked",
    smallest=10,
    largest=60,
    step=5,
)
PLAN = Plan(
    lines=(
        PlanLine(movement=PLANK, dose=Dose(variation="knees bent", amount=30), target=7, ceiling=9),
    ),
    minutes=50,
    target=7,
    ceiling=9,
)


def suggestion(
    member: str, change: Change, kind: ReasonKind, effort: float | None = None, amount: float = 30
) -> Suggestion:
    """What one member is called, and why."""
    return Suggestion(
        member=member,
        movement="Side plank",
        dose=Dose(variation="knees bent", amount=amount),
        expected_effort=7,
        chance_over_ceiling=0.01,
        change=change,
        reason=Reason(kind=kind, effort=effort),
    )


def explained(*called: Suggestion) -> list[str]:
    """Whose changes the digest tells."""
    advice = Advice(suggestions=called, options=(), called=called, asks=())
    members = tuple(each.member for each in called)
    digest = prepare_digest(PLAN, advice, Reports(), Before(), members=members, on=ON)
    return [each.member for each in digest.differences]


@pytest.mark.parametrize(
    ("change", "kind", "effort", "told"),
    [
        (Change.EASIER, ReasonKind.RATING, 9, True),
        (Change.EASIER, ReasonKind.RATING, 4, False),  # that is the room's doing
        (Change.HARDER, ReasonKind.RATING, 4, True),
        (Change.HARDER, ReasonKind.RATING, 9, False),
        (Change.HARDER, ReasonKind.RESERVE, 7, True),
        (Change.EASIER, ReasonKind.RESERVE, 7, False),
        (Change.EASIER, ReasonKind.UNFINISHED, None, True),
        (Change.EASIER, ReasonKind.PAIN, None, True),
        (Change.EASIER, ReasonKind.BREAK, None, True),
        (Change.SAME, ReasonKind.PAIN, None, False),
        (Change.EASIER, ReasonKind.OTHERS, None, False),
        (Change.EASIER, ReasonKind.NOT_KNOWN, None, False),
    ],
)
def test_a_change_is_told_if_its_reason_explains_it(
    change: Change, kind: ReasonKind, effort: float | None, told: bool
) -> None:
    assert bool(explained(suggestion("m", change, kind, effort))) is told


def test_pain_is_told_before_ratings() -> None:
    hurt = suggestion("a", Change.EASIER, ReasonKind.PAIN)
    rated = suggestion("b", Change.HARDER, ReasonKind.RATING, 3)
    assert explained(rated, hurt) == ["a", "b"]


def test_options_are_the_doses_that_are_called_easiest_first() -> None:
    called = (
        suggestion("a", Change.SAME, ReasonKind.RATING, amount=40),
        suggestion("b", Change.SAME, ReasonKind.RATING, amount=20),
        suggestion("c", Change.SAME, ReasonKind.RATING, amount=40),
    )
    assert [(o.dose.amount, o.members) for o in options_of(PLAN, called)] == [
        (20, ("b",)),
        (40, ("a", "c")),
    ]


def rating(member: str, effort: float | None, *, attended: bool = True) -> SessionRating:
    """One answer about the last class."""
    return SessionRating(
        member=member,
        session="s",
        on=LAST,
        said_at=datetime(2026, 3, 2, 20, tzinfo=UTC),
        attended=attended,
        effort=effort,
    )


def test_the_pitch_counts_who_was_there_and_who_felt_it_as_planned() -> None:
    ratings = (
        rating("a", 6),
        rating("b", 8.5),
        rating("c", None),
        rating("d", None, attended=False),
    )
    pitch = pitch_of(Reports(ratings=ratings), on=LAST, target=7)
    assert (pitch.present, pitch.rated, pitch.median, pitch.in_range) == (3, 2, 7.25, 1)


def test_who_never_said_anything_is_new_and_who_fell_silent_is_quiet() -> None:
    old = SessionRating(
        member="b", session="r", on=date(2026, 2, 23), said_at=datetime(2026, 2, 23, tzinfo=UTC)
    )
    reports = Reports(ratings=(rating("a", 7), old))
    advice = Advice(suggestions=(), options=(), called=(), asks=())
    members = ("a", "b", "c")
    digest = prepare_digest(PLAN, advice, reports, Before(on=LAST), members=members, on=ON)
    assert (digest.quiet, digest.new) == (("b",), ("c",))
