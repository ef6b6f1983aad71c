"""Buttons of plans in progress carry what is to be, and nothing that doesn't fit it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.buttons import read_button
from bot.buttons.setup import (
    MOST_TRIED,
    Act,
    DraftButton,
    InviteButton,
    PlanButton,
    Stage,
    Step,
    TrialButton,
)
from bot.timetable import is_zone
from core.questions import Question
from tests.bot.test_buttons import IDS, MOST_BYTES

NUMBERS = st.integers(1, 999_999).map(lambda hundredths: f"{hundredths / 100:g}")
ZONES = ("Europe/Lisbon", "America/Argentina/ComodRivadavia", "Etc/GMT+12", "UTC")

VALUES: dict[Act, st.SearchStrategy[str]] = {
    Act.SHOW: st.builds(
        lambda stage, about: str(Step(stage, about)),
        st.sampled_from(Stage),
        st.just("") | IDS | st.sampled_from("0123"),
    ),
    Act.DAY: st.builds(lambda day, on: f"{day}{on}", st.integers(0, 6), st.sampled_from("+-")),
    Act.CLOCK: st.times().map(lambda at: f"{at:%H%M}"),
    Act.MINUTES: st.integers(1, 999).map(str),
    Act.ZONE: st.sampled_from(ZONES),
    Act.TAKE: IDS,
    Act.DROP: IDS,
    Act.TARGET: st.builds(lambda about, at: f"{about}:{at}", IDS | st.just("-"), NUMBERS),
    Act.VARIATION: st.builds(lambda about, at: f"{about}:{at}", IDS, st.integers(0, 7)),
    **{
        act: st.builds(lambda about, at: f"{about}:{at}", IDS, NUMBERS)
        for act in (Act.AMOUNT, Act.LOAD)
    },
    **{
        act: st.builds(lambda about, at: f"{about}:{at}", IDS, st.integers(0, 20))
        for act in (Act.SETS, Act.PLACE)
    },
}


@st.composite
def drafts(draw: st.DrawFn) -> DraftButton:
    """Anything that can be done to a plan in progress."""
    act = draw(st.sampled_from(Act))
    return DraftButton(draw(IDS), act, draw(VALUES.get(act, st.just(""))))


SAID = st.lists(
    st.sampled_from(
        [("c", "b20"), ("c", "7.5"), ("c", "absent"), ("e0", "unfinished"), ("e0", "7"),
         ("d0", "112.5"), ("r0", "3"), ("h", "soreness"), ("h", "pain"), ("w", "general")]
    ),
    max_size=4,
)  # fmt: skip


@given(
    drafts()
    | st.builds(PlanButton, IDS)
    | st.builds(InviteButton, IDS)
    | st.builds(TrialButton, IDS, anew=st.just(True))
)
def test_a_button_is_read_as_it_was_written(button: DraftButton | PlanButton) -> None:
    data = button.write()
    assert read_button(data) == button
    assert len(data.encode()) <= MOST_BYTES


@given(IDS, SAID)
def test_a_trial_remembers_what_was_said(group: str, said: list[tuple[str, str]]) -> None:
    answers = [(Question.read(name), value) for name, value in said]
    button = TrialButton(group, tuple((q, value) for q, value in answers if q is not None))
    assert read_button(button.write()) == button


def test_the_longest_trial_fits() -> None:
    said = "cskipped:e0unfinished:d0skipped:hpain:wgeneral"
    data = f"q:abcdefgh2345:{said}"
    found = TrialButton.read(data)
    assert found is not None
    assert found.write() == data
    assert len(data) <= MOST_BYTES
    assert len(found.said) <= MOST_TRIED


@pytest.mark.parametrize(
    "data",
    [
        "b:abcdefgh2345:d:7+",
        "b:abcdefgh2345:s:nowhere",
        "b:abcdefgh2345:s",
        "b:abcdefgh2345:y:1",
        "b:abcdefgh2345:q:1",
        "b:abcdefgh2345:a:abcdefgh2345:-1",
        "b:abcdefgh2345:z:../../etc/passwd\n",
        "q:abcdefgh2345:c11",
        "q:abcdefgh2345:z1",
        "q:abcdefgh2345:c",
        "q:abcdefgh2345" + ":c7" * (MOST_TRIED + 1),
        "f:abcdefgh2345:now",
        "o:ABCDEFGH2345",
    ],
)
def test_what_does_not_fit_is_no_button(data: str) -> None:
    assert read_button(data) is None


def test_every_zone_fits_into_a_button() -> None:
    for zone in ZONES:
        assert is_zone(zone)
        assert DraftButton.read(DraftButton("abcdefgh2345", Act.ZONE, zone).write()) is not None
