"""Buttons around group chats: what was written is read again, and nothing else is."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.buttons import Button, LinkButton, TapButton, UnlinkButton, read_button

IDS = st.text(alphabet="abcdefghijklmnopqrstuvwxyz234567", min_size=12, max_size=12)
BUTTONS = st.one_of(
    st.builds(TapButton, IDS, st.none() | st.integers(0, 10)),
    st.builds(LinkButton, IDS, IDS),
    st.builds(UnlinkButton, IDS),
)


@given(BUTTONS)
def test_what_is_written_is_read_again_and_fits(button: Button) -> None:
    data = button.write()
    assert read_button(data) == button
    assert len(data.encode()) <= 64


@pytest.mark.parametrize(
    "data",
    [
        "g:abcdefghijkl:11",
        "g:abcdefghijkl:-1",
        "g:abcdefghijkl:07",
        "g:abcdefghijkl:7.5",
        "g:abcdefghijkl:",
        "g:abcdefghijkl:absent ",
        "g:abcdefghijkl:skipped",
        "g:ABCDEFGHIJKL:7",
        "l:abcdefghijkl",
        "l:abcdefghijkl:abcdefghijkl:x",
        "u:abcdefghijk",
    ],
)
def test_anything_else_is_no_button(data: str) -> None:
    assert read_button(data) is None
