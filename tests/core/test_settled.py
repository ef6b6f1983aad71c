"""Settled reports: each thing once, by session or all together, and always in one order."""

from datetime import UTC, date, datetime, timedelta
from typing import TypeVar

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.movement import Dose
from core.reports import Bout, Reports, SessionRating, Settled

FIRST = date(2026, 1, 8)
NOON = datetime(2026, 1, 9, 12, 0, tzinfo=UTC)
DOSE = Dose(variation="full", amount=30.0)
DAYS = {"morning": 0, "evening": 0, "later": 2}
"""Two sessions are on one day."""


@st.composite
def ratings(draw: st.DrawFn) -> SessionRating:
    """What somebody says of a session, sometimes again."""
    session = draw(st.sampled_from(sorted(DAYS)))
    return SessionRating(
        member=draw(st.sampled_from("ABC")),
        session=session,
        on=FIRST + timedelta(days=DAYS[session]),
        said_at=NOON + timedelta(minutes=draw(st.integers(0, 3))),
        effort=float(draw(st.integers(0, 10))),
    )


@st.composite
def bouts(draw: st.DrawFn) -> Bout:
    """What somebody says of a movement."""
    rating = draw(ratings())
    return Bout(
        member=rating.member,
        session=rating.session,
        on=rating.on,
        said_at=rating.said_at,
        movement=draw(st.sampled_from(("squat", "plank"))),
        dose=DOSE,
        effort=rating.effort,
    )


reports = st.builds(
    Reports, ratings=st.lists(ratings()).map(tuple), bouts=st.lists(bouts()).map(tuple)
)


Answer = TypeVar("Answer", SessionRating, Bout)


def in_order(said: tuple[Answer, ...]) -> list[Answer]:
    """What was said last of each thing, by day and member."""
    last = {each.about: each for each in sorted(said, key=lambda each: each.said_at)}
    return sorted(last.values(), key=lambda each: (each.on, each.about))


@given(reports)
def test_each_thing_is_there_once_with_what_was_said_last(said: Reports) -> None:
    settled = said.settled()
    assert list(settled.ratings) == in_order(said.ratings)
    assert list(settled.bouts) == in_order(said.bouts)


@given(reports)
def test_by_session_it_is_the_same(said: Reports) -> None:
    settled = said.settled()
    sessions = settled.by_session()
    assert sessions == Reports(ratings=settled.ratings, bouts=settled.bouts).by_session()
    assert [each.name for each in sessions] == [
        name for name in ("evening", "morning", "later") if any(name == e.name for e in sessions)
    ]
    assert Settled(sessions=sessions) == settled


@given(reports, st.sampled_from("ABC"))
def test_one_members_is_settled_as_well(said: Reports, member: str) -> None:
    mine = Reports(
        ratings=tuple(each for each in said.ratings if each.member == member),
        bouts=tuple(each for each in said.bouts if each.member == member),
    )
    of_member = [each.of(member) for each in said.settled().sessions]
    heard = tuple(each for each in of_member if each.ratings or each.bouts)
    assert Settled(sessions=heard) == mine.settled()


@given(reports)
def test_since_a_day_what_came_before_is_left_out(said: Reports) -> None:
    day = FIRST + timedelta(days=1)
    later = Reports(
        ratings=tuple(each for each in said.ratings if each.on >= day),
        bouts=tuple(each for each in said.bouts if each.on >= day),
    )
    assert said.settled().since(day) == later.settled()


def test_what_is_settled_stays_so() -> None:
    settled = Reports().settled()
    assert settled.settled() is settled
    with pytest.raises(TypeError):
        Settled(ratings=())  # type: ignore[call-arg]


@given(reports)
def test_a_session_of_which_the_same_is_said_has_the_same_mark(said: Reports) -> None:
    one, other = said.settled().sessions, said.settled().sessions
    assert [each.mark for each in one] == [each.mark for each in other]
