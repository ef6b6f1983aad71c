"""Buttons of the timetable are read as they were written, and nothing else is read."""

from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.buttons import Button, CalendarButton, ClassesButton, Deed, SessionButton, read_button
from bot.buttons.timetable import MOVING

IDS = st.text(alphabet="abcdefghijklmnopqrstuvwxyz234567", min_size=12, max_size=12)
MINUTES = st.datetimes(
    datetime(2000, 1, 1),  # noqa: DTZ001  (the zone comes after)
    datetime(2999, 12, 31),  # noqa: DTZ001
    timezones=st.just(UTC),
).map(lambda moment: moment.replace(second=0, microsecond=0))
BUTTONS: st.SearchStrategy[Button] = st.one_of(
    st.builds(ClassesButton, IDS, st.integers(0, 99)),
    st.builds(ClassesButton, IDS, adds=st.just(True), at=st.none() | MINUTES),
    st.builds(
        SessionButton, IDS, MINUTES, st.sampled_from([each for each in Deed if each not in MOVING])
    ),
    st.builds(SessionButton, IDS, MINUTES, st.sampled_from(MOVING), MINUTES),
    st.builds(CalendarButton, IDS, yes=st.booleans()),
    st.builds(CalendarButton, IDS, group=IDS),
    st.builds(CalendarButton, IDS, event=st.integers(0, 99)),
    st.builds(CalendarButton, IDS, everything=st.just(True)),
)


@given(BUTTONS)
def test_a_button_is_read_as_it_was_written_and_fits(button: Button) -> None:
    data = button.write()
    assert read_button(data) == button
    assert len(data.encode()) <= 64


@pytest.mark.parametrize(
    "data",
    [
        "i:abcdefgh2345",
        "i:abcdefgh2345:100",
        "i:abcdefgh2345:add:202602301200",
        "r:abcdefgh2345:show",
        "r:abcdefgh2345:202609031730:moved",
        "r:abcdefgh2345:202609031730:show:202609031730",
        "r:abcdefgh2345:202609032430:show",
        "r:abcdefgh2345:202602301730:show",
        "r:abcdefgh2345:202609031730:to:202613031730",
        "r:abcdefgh2345:٢٠٢٦٠٩٠٣١٧٣٠:show",
        "v:abcdefgh2345:",
        "v:abcdefgh2345:e100",
        "v:abcdefgh2345:gshort",
    ],
)
def test_what_no_button_wrote_is_not_read(data: str) -> None:
    assert read_button(data) is None
