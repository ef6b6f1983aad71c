"""A moment survives being written, and text order is time order."""

from datetime import UTC, datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.storage.moments import read_moment, round_up, write_moment

moments = st.datetimes(
    min_value=datetime(1, 1, 3),  # noqa: DTZ001 - hypothesis adds the zone
    max_value=datetime(9999, 12, 29),  # noqa: DTZ001
    timezones=st.integers(-14 * 60, 14 * 60).map(lambda m: timezone(timedelta(minutes=m))),
)


@given(moments)
def test_a_moment_survives_to_the_second(moment: datetime) -> None:
    text = write_moment(moment)
    assert len(text) == 20
    assert read_moment(text) == moment.astimezone(UTC).replace(microsecond=0)


@given(moments, moments)
def test_text_order_is_time_order(one: datetime, other: datetime) -> None:
    if write_moment(one) < write_moment(other):
        assert one < other


@given(moments)
def test_rounding_up_never_comes_early(moment: datetime) -> None:
    assert timedelta(0) <= round_up(moment) - moment < timedelta(seconds=1)
    assert round_up(moment).microsecond == 0


def test_the_form_is_the_agreed_one() -> None:
    assert write_moment(datetime(2026, 3, 1, 19, 5, tzinfo=UTC)) == "2026-03-01T19:05:00Z"


def test_a_moment_without_a_zone_is_refused() -> None:
    with pytest.raises(ValueError, match="time zone"):
        write_moment(datetime(2026, 3, 1))  # noqa: DTZ001 - the point of the test


@pytest.mark.parametrize(
    "text",
    ["", "2026-03-01", "2026-03-01T19:05:00+00:00", "2026-03-01 19:05:00Z", "20260301T190500Z"],
)
def test_another_form_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="not a moment"):
        read_moment(text)
