"""Who an instructor noted as present or absent: quiet, new, or simply not there."""

from datetime import UTC, date, datetime

from core.digest import Before, Digest, prepare_digest
from core.plan import Plan
from core.reports import Reports, SessionRating
from core.suggestion import Advice

FIRST, LAST, ON = date(2026, 3, 2), date(2026, 3, 9), date(2026, 3, 16)
NOTHING = Advice(suggestions=(), options=(), called=(), asks=())


def rating(member: str, on: date, *, attended: bool = True, noted: bool = False) -> SessionRating:
    return SessionRating(
        member=member,
        session=on.isoformat(),
        on=on,
        said_at=datetime(on.year, on.month, on.day, 20, tzinfo=UTC),
        attended=attended,
        effort=None if noted or not attended else 7,
        noted=noted,
    )


def digest(*ratings: SessionRating) -> Digest:
    plan = Plan(lines=(), minutes=50, target=7, ceiling=9)
    reports = Reports(ratings=ratings)
    return prepare_digest(plan, NOTHING, reports, Before(on=LAST), members=("ana",), on=ON)


def test_who_was_there_and_said_nothing_is_quiet() -> None:
    assert digest(rating("ana", FIRST), rating("ana", LAST, noted=True)).quiet == ("ana",)


def test_who_was_not_there_is_not_quiet() -> None:
    away = rating("ana", LAST, attended=False, noted=True)
    assert digest(rating("ana", FIRST), away).quiet == ()


def test_who_was_only_seen_is_still_new() -> None:
    assert digest(rating("ana", LAST, noted=True)).new == ("ana",)
    assert digest(rating("ana", LAST)).new == ()
