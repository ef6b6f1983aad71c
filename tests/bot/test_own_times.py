"""Members with times of their own: asked, and reminded outside of their quiet hours."""

from datetime import UTC, date, datetime, time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.desk.own_times import ask_at, remind_at
from bot.storage.preferences import AskedWhen, Preferences
from bot.storage.sessions import Session
from bot.timetable import local, quiet

LISBON = "Europe/Lisbon"
ENDS = datetime(2026, 9, 3, 18, 20, tzinfo=UTC)  # 19:20 on the wall
CLASS = Session(
    id="abcdefgh2345",
    group_id="abcdefgh2345",
    plan_id="abcdefgh2345",
    slot="2026-09-03T18:30",
    starts_at=ENDS - timedelta(minutes=50),
    ends_at=ENDS,
    local_day=date(2026, 9, 3),
    cancelled=False,
    moved=False,
)


@pytest.mark.parametrize(
    ("asked", "wall"),
    [
        (AskedWhen.AFTER, "2026-09-03 19:30"),
        (AskedWhen.EVENING, "2026-09-03 20:00"),
        (AskedWhen.MORNING, "2026-09-04 09:00"),
    ],
)
def test_each_is_asked_when_they_chose(asked: AskedWhen, wall: str) -> None:
    now = ENDS + timedelta(minutes=10)
    at = ask_at(Preferences(asked=asked), CLASS, LISBON, now)
    assert f"{local(at, LISBON):%Y-%m-%d %H:%M}" == wall


def test_a_late_class_is_asked_about_at_once_by_those_who_chose_the_evening() -> None:
    now = ENDS + timedelta(hours=2)
    assert ask_at(Preferences(asked=AskedWhen.EVENING), CLASS, LISBON, now) == now


MINUTES = st.integers(0, 1439)


@given(MINUTES, MINUTES, st.integers(0, 2 * 1440))
def test_nobody_is_reminded_in_their_quiet_hours_and_never_early(
    begins: int, ends: int, after: int
) -> None:
    now = ENDS + timedelta(minutes=after)
    at = remind_at(Preferences(quiet_from=begins, quiet_until=ends), ENDS, LISBON, now)
    assert at >= now
    wall = local(at, LISBON).hour * 60 + local(at, LISBON).minute
    in_quiet = begins <= wall < ends if begins <= ends else wall >= begins or wall < ends
    assert not in_quiet
    assert at - max(now, ENDS + timedelta(hours=14)) <= timedelta(days=1)


def test_quiet_hours_may_lie_within_one_day() -> None:
    at = datetime(2026, 9, 3, 0, 30, tzinfo=UTC)  # 01:30 in Lisbon
    assert quiet(at, LISBON, time(1), time(6)) == datetime(2026, 9, 3, 5, tzinfo=UTC)
    assert quiet(at, LISBON, time(2), time(6)) == at
    assert quiet(at, LISBON, time(1), time(1)) == at
