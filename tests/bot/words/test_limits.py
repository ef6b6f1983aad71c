"""No message is longer than the chat takes, in any language, whatever people are called."""

import pytest

from bot.words.message import Key, Message
from bot.words.speech import LANGUAGES, Speech, speech_for
from core.effort import Scale
from demo_script.stand_in.entities import units
from demo_script.stand_in.markup import parse_html
from tests.bot.words.longest import KINDS_OF_NAME, plan
from tests.bot.words.spoken import captions, constants, messages, speaking

LONGEST_TEXT, LONGEST_CAPTION, LONGEST_LABEL, LONGEST_DATA = 4096, 1024, 60, 64
"""UTF-16 units of a text and a caption without markup, characters of a label, bytes of data."""
MOST_KEYS = 100


def read(html: str) -> str:
    """What people read of it; fails if it isn't proper."""
    text, _ = parse_html(html)
    return text


def check_keys(said: str, message: Message, kind: str) -> None:
    """The buttons are few enough, short enough, and say something."""
    keys = [key for row in message.rows for key in row]
    assert len(keys) <= MOST_KEYS, said
    for key in keys:
        assert 1 <= len(key.label) <= LONGEST_LABEL, (said, key.label)
        assert "{" not in key.label or kind == "nasty", (said, key.label)
        if isinstance(key, Key):
            assert len(key.button.write().encode()) <= LONGEST_DATA


@pytest.fixture(params=[(language, scale) for language in LANGUAGES for scale in Scale], ids=str)
def speech(request: pytest.FixtureRequest) -> Speech:
    """Every language on both scales, with all that can be said."""
    language, scale = request.param
    return speech_for(language, scale, heart_rate=True)


def test_every_message_is_among_those_that_are_tried() -> None:
    tried = {said for said, _ in messages(speech_for("en"), "wide")}
    assert speaking() - tried == set(), "add it to tests/bot/words/spoken.py"
    assert len(constants()) > 15


@pytest.mark.parametrize("kind", KINDS_OF_NAME)
def test_messages_fit_and_buttons_can_be_read_and_sent(speech: Speech, kind: str) -> None:
    for said, message in messages(speech, kind):
        text = read(message.text)
        assert 1 <= units(text) <= LONGEST_TEXT, said
        assert text == text.strip(), said
        check_keys(said, message, kind)


@pytest.mark.parametrize("kind", KINDS_OF_NAME)
def test_captions_fit_under_a_picture(speech: Speech, kind: str) -> None:
    for caption in captions(speech, kind):
        assert 1 <= units(read(caption)) <= LONGEST_CAPTION


@pytest.mark.parametrize("kind", KINDS_OF_NAME)
def test_no_movement_is_lost_from_a_long_digest(kind: str) -> None:
    told = [each for said, each in messages(speech_for("de"), kind) if said == "digest_messages"]
    everything = "\n".join(read(message.text) for message in told)
    for line in plan(kind).lines:
        assert line.movement.name in everything
    assert [bool(message.rows) for message in told] == [*[False] * (len(told) - 1), True]
