"""Buttons about people: read as they were written, and nothing else is read."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.buttons import Button, read_button
from bot.buttons.people import (
    ABOUT_SOMETHING,
    AttendanceButton,
    Care,
    Lead,
    LeadButton,
    PersonButton,
    Presence,
    RosterButton,
)

IDS = st.text("abcdefghijklmnopqrstuvwxyz234567", min_size=12, max_size=12)
PAGES = st.integers(0, 99)
ABOUT_A_NOTE = (Care.ERASE_NOTE, Care.NOTE_ERASED)
OF_ONE = (Presence.THERE, Presence.AWAY, Presence.UNKNOWN)
OF_ALL = (Presence.OTHERS, Presence.OTHERS_AWAY)
PEOPLE = st.one_of(
    st.builds(RosterButton, IDS, PAGES),
    st.builds(PersonButton, IDS, IDS, st.sampled_from([c for c in Care if c not in ABOUT_A_NOTE])),
    st.builds(PersonButton, IDS, IDS, st.sampled_from(ABOUT_A_NOTE), IDS),
    st.builds(AttendanceButton, IDS, PAGES),
    st.builds(AttendanceButton, IDS, PAGES, st.sampled_from(OF_ONE), IDS),
    st.builds(AttendanceButton, IDS, PAGES, st.sampled_from(OF_ALL)),
    st.builds(LeadButton, IDS, st.sampled_from([x for x in Lead if x not in ABOUT_SOMETHING])),
    st.builds(LeadButton, IDS, st.sampled_from(ABOUT_SOMETHING), IDS),
)


@given(PEOPLE)
def test_what_is_written_is_read_back_and_fits(button: Button) -> None:
    data = button.write()
    assert len(data.encode()) <= 64
    assert read_button(data) == button


@pytest.mark.parametrize(
    "data",
    [
        "C:abcdefgh2345",
        "C:abcdefgh2345:100",
        "C:abcdefgh2345:01",
        "C:ABCDEFGH2345:1",
        "D:abcdefgh2345:abcdefgh2345",
        "D:abcdefgh2345:abcdefgh2345:promote",
        "D:abcdefgh2345:abcdefgh2345:erase",
        "D:abcdefgh2345:abcdefgh2345:card:abcdefgh2345",
        "E:abcdefgh2345:0:there",
        "E:abcdefgh2345:0:others:abcdefgh2345",
        "E:abcdefgh2345:0:late:abcdefgh2345",
        "E:abcdefgh2345",
        "F:abcdefgh2345",
        "F:abcdefgh2345:back",
        "F:abcdefgh2345:yes:abcdefgh2345",
        "F:abcdefgh2345:own",
    ],
)
def test_anything_else_is_no_button(data: str) -> None:
    assert read_button(data) is None
