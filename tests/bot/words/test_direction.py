"""Names read from right to left, or made of pictures, look right wherever they stand."""

import re
from unicodedata import bidirectional

import pytest

from bot.words.message import short
from bot.words.speech import END_OF_ISOLATE, ISOLATE, LANGUAGES, RIGHT_TO_LEFT, speech_for
from tests.bot.words.spoken import captions, messages
from tests.bot.words.test_limits import read

OTHER_WAY = "other way"


NAME_ALONE = re.compile(r"[\u0590-\u06ff ]+\d{0,3}…?")


def unguarded(text: str) -> list[str]:
    """Lines in which what is read from right to left could turn numbers and words around it.

    A line that is a name and nothing else is fine: there is nothing around.
    """
    return [line for line in text.splitlines() if _turns(line) and not NAME_ALONE.fullmatch(line)]


def _turns(line: str) -> bool:
    """Whether anything is read from right to left outside of what is set apart."""
    depth = 0
    for char in line:
        depth += (char == ISOLATE) - (char == END_OF_ISOLATE)
        if depth == 0 and bidirectional(char) in RIGHT_TO_LEFT:
            return True
    return False


def balanced(text: str) -> bool:
    """Whether every direction that is opened is closed again, on the same line."""
    return all(line.count(ISOLATE) == line.count(END_OF_ISOLATE) for line in text.splitlines())


@pytest.mark.parametrize("language", LANGUAGES)
def test_what_is_read_from_right_to_left_turns_nothing_around_it(language: str) -> None:
    speech = speech_for(language, heart_rate=True)
    found: dict[str, list[str]] = {}
    for said, message in messages(speech, OTHER_WAY):
        texts = [read(message.text), *(key.label for row in message.rows for key in row)]
        wrong = [line for text in texts for line in unguarded(text)]
        wrong += [text for text in texts if not balanced(text)]
        if wrong:
            found.setdefault(said, []).extend(wrong[:2])
    assert found == {}


def test_what_turns_something_would_be_found() -> None:
    assert unguarded("fine\nמרים: 7 reps") == ["מרים: 7 reps"]
    assert unguarded("מרים 00…") == []
    assert unguarded(f"{ISOLATE}מרים{END_OF_ISOLATE}: 7 reps") == []


@pytest.mark.parametrize("language", LANGUAGES)
def test_so_it_is_under_pictures(language: str) -> None:
    for caption in captions(speech_for(language), OTHER_WAY):
        assert unguarded(read(caption)) == []
        assert balanced(read(caption))


def test_each_of_several_names_is_read_in_its_own_direction() -> None:
    listed = speech_for("en").listed(["מרים", "Tom", "سلمى"])
    assert listed == f"{ISOLATE}מרים{END_OF_ISOLATE}, Tom and {ISOLATE}سلمى{END_OF_ISOLATE}"


@pytest.mark.parametrize("most", range(4, 12))
@pytest.mark.parametrize(
    "name",
    [
        "Ana 💪🏽💪🏽💪🏽💪🏽",
        "👩‍🚒👩‍🚒👩‍🚒👩‍🚒",
        "e\u0301e\u0301e\u0301e\u0301e\u0301e\u0301e\u0301",
    ],
)
def test_no_picture_or_letter_is_cut_in_two(name: str, most: int) -> None:
    cut = short(name, most)
    assert len(cut) <= most
    left = cut.removesuffix("…")
    assert name.startswith(left)
    assert not name[len(left) :].startswith(("\u200d", "\u0301", "🏽"))
    assert not left.endswith("\u200d")


def test_a_label_that_is_cut_short_closes_what_it_opened() -> None:
    label = speech_for("en").label("{movement}: it's fine again", movement="מרים " * 20)
    cut = short(label)
    assert len(cut) <= 60
    assert balanced(cut)
