"""What arrived twice is counted by what it was for, also where no button tells that now."""

import json

import pytest

from bot.desk.letters import content
from bot.words.alerts import UNTOUCHED, Handled, alert_message
from bot.words.speech import speech_for
from core.alert import AlertKind
from tests.bot.words import longest
from tests.campaigns.truth import kind_of


@pytest.mark.parametrize(
    ("handled", "again"),
    [*((each, False) for each in longest.handled("wide")), (UNTOUCHED, True)],
)
@pytest.mark.parametrize("kind", AlertKind)
def test_an_alert_is_known_as_one_however_it_stands(
    kind: AlertKind, handled: Handled, again: bool
) -> None:
    message = alert_message(
        speech_for("en"),
        longest.alert("wide", kind),
        id=longest.ID,
        name="Ana",
        group="Class 1",
        symptom=None,
        handled=handled,
        again=again,
    )
    markup = json.dumps(content(message)["reply_markup"])
    assert kind_of(markup, message.text, of_instructor=True) == "alert"
