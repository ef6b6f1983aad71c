"""Buttons about alerts, thresholds and classes; nothing else is read."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.buttons import (
    AlertsButton,
    Button,
    ClassButton,
    DealButton,
    ThresholdButton,
    read_button,
)
from bot.buttons.watching import AboutClass, Dealing
from core.thresholds import CHOICES, Threshold

IDS = st.text(alphabet="abcdefghijklmnopqrstuvwxyz234567", min_size=12, max_size=12)


@st.composite
def thresholds(draw: st.DrawFn) -> ThresholdButton:
    """All of a group's, one of them, or one of the numbers that it may be."""
    group, threshold = draw(IDS), draw(st.one_of(st.none(), st.sampled_from(Threshold)))
    if threshold is None:
        return ThresholdButton(group)
    value = draw(st.one_of(st.none(), st.sampled_from(CHOICES[threshold])))
    return ThresholdButton(group, threshold, value)


@given(
    st.one_of(
        st.builds(DealButton, IDS, st.sampled_from(Dealing)),
        st.builds(AlertsButton, IDS, st.one_of(st.none(), IDS)),
        st.builds(ClassButton, IDS, st.sampled_from(AboutClass)),
        thresholds(),
    )
)
def test_what_was_written_is_read(button: Button) -> None:
    assert read_button(button.write()) == button
    assert len(button.write().encode()) <= 64


@pytest.mark.parametrize(
    "data",
    [
        "x:abcdefgh2345",
        "x:abcdefgh2345:erase",
        "A:abcdefgh2345",
        "A:abcdefgh2345:abc",
        "B:abcdefgh2345:quiet:7",
        "B:abcdefgh2345:maximal:0",
        "B:abcdefgh2345:quiet:03",
        "B:abcdefgh2345:pain:0",
        "B:abcdefgh2345:3",
        "y:abcdefgh2345:print:1",
        "y:ABCDEFGH2345:print",
    ],
)
def test_what_nobody_wrote_is_not_read(data: str) -> None:
    assert read_button(data) is None
