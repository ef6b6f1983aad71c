"""Names are short, visible, and can't pose as another name."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.names import nearest, readable, tidy


@pytest.mark.parametrize("name", ["Side plank", "Zoë", "陳", "O'Neil-Smith", "Ana 👩‍🦰"])
def test_names_of_all_scripts_are_readable(name: str) -> None:
    assert readable(name)


@pytest.mark.parametrize(
    "name", ["", " ", "a\nb", "a\x00b", "a\u202eb", "a\u200fb", "a" * 65, " a", "a  b", "a\tb"]
)
def test_what_can_not_be_shown_plainly_is_not_a_name(name: str) -> None:
    assert not readable(name)


@given(st.text())
def test_a_tidied_name_is_readable_or_empty(name: str) -> None:
    assert tidy(name) == "" or readable(tidy(name))


def test_the_nearest_name_is_found_whatever_its_case() -> None:
    assert nearest("side plnk", ("Push-up", "Side plank")) == "Side plank"
    assert nearest("zzz", ("Push-up", "Side plank")) is None
