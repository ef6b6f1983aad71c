"""The catalogues hold every sentence in every language, whole and with the same facts in it."""

import re
from collections import Counter
from collections.abc import Iterator
from datetime import UTC, date, datetime
from string import Formatter

import pytest
from babel.messages.catalog import Message

from bot.words.help import INSTRUCTOR_COMMANDS
from bot.words.settings import own_name
from bot.words.speech import DEFAULT, END_OF_ISOLATE, ISOLATE, LANGUAGES, Speech, bold, speech_for
from bot.words.toasts import Toast
from tests.bot.words.spoken import all_toasts
from tests.catalogues import FOLDER, catalogue, compiled, sentences, updated

OTHERS = [language for language in LANGUAGES if language != DEFAULT]

SAME_EVERYWHERE: dict[str, set[str]] = {
    "es": {"No", "{number} min", "{number} rep", "{number} reps"},
    "de": {"Name", "Name: {old} → {new}"},
}
"""Sentences with words in them that are the same in this language as in English."""
ABBREVIATED = ("{number} Wdh.", "{number} Min.")
"""What ends in a full stop though it's no sentence; it mustn't stand at the end of one."""


def translated(language: str) -> list[Message]:
    """Every sentence with its translation."""
    return [message for message in catalogue(language) if message.id]


def pairs(message: Message) -> Iterator[tuple[str, str]]:
    """Each form of a sentence with its translation."""
    if isinstance(message.id, tuple | list):
        assert not isinstance(message.string, str | None)
        yield from zip(message.id, message.string, strict=True)
    else:
        assert isinstance(message.string, str)
        yield message.id, message.string


def every_pair(language: str) -> list[tuple[str, str]]:
    """All forms of all sentences with their translations."""
    return [pair for message in translated(language) for pair in pairs(message)]


def facts(sentence: str) -> Counter[str]:
    """The names in a sentence's braces."""
    return Counter(name for _, name, _, _ in Formatter().parse(sentence) if name is not None)


def tags(sentence: str) -> list[str]:
    """The markup in a sentence, in order."""
    return re.findall(r"</?\w+>", sentence)


def test_there_are_sentences_to_translate() -> None:
    assert len([each for each in sentences() if each.id]) > 300


@pytest.mark.parametrize("language", OTHERS)
def test_a_catalogue_is_as_the_sentences_are(language: str) -> None:
    """If not: `python -m tests.catalogues`, and translate what is empty then."""
    known = {message.id for message in translated(language)}
    said = {message.id for message in sentences() if message.id}
    assert known - said == set(), "sentences that nobody says any more"
    assert said - known == set(), "sentences that the catalogue doesn't have"
    assert updated(language) == (FOLDER / f"{language}.po").read_bytes()


@pytest.mark.parametrize("language", OTHERS)
def test_what_is_said_is_what_the_catalogue_says(language: str) -> None:
    """If not: `python -m tests.catalogues` once more, after translating."""
    assert compiled(language) == (FOLDER / f"{language}.mo").read_bytes()
    for source, said in every_pair(language):
        if "{" not in source:
            assert speech_for(language).label(source) == said


@pytest.mark.parametrize("language", OTHERS)
def test_everything_is_translated(language: str) -> None:
    assert [source for source, said in every_pair(language) if not said.strip()] == []


@pytest.mark.parametrize("language", OTHERS)
def test_every_translation_holds_the_same_facts(language: str) -> None:
    wrong = [pair for pair in every_pair(language) if facts(pair[0]) != facts(pair[1])]
    assert wrong == []


@pytest.mark.parametrize("language", OTHERS)
def test_every_translation_holds_the_same_markup(language: str) -> None:
    assert [pair for pair in every_pair(language) if tags(pair[0]) != tags(pair[1])] == []


@pytest.mark.parametrize("language", OTHERS)
def test_commands_are_named_as_they_are_typed(language: str) -> None:
    def commands(sentence: str) -> Counter[str]:
        return Counter(re.findall(r"(?<![\w<])/[a-z]+", sentence))

    assert [pair for pair in every_pair(language) if commands(pair[0]) != commands(pair[1])] == []


@pytest.mark.parametrize("language", OTHERS)
def test_nothing_was_left_in_english(language: str) -> None:
    def words(sentence: str) -> str:
        return re.sub(r"\{\w+\}|[^^\W\d_]\b|kg", "", sentence)

    same = {
        source
        for source, said in every_pair(language)
        if source == said and re.search(r"[^\W\d_]{2}", words(source))
    }
    assert same <= SAME_EVERYWHERE[language]


@pytest.mark.parametrize("language", OTHERS)
def test_sentences_begin_and_end_as_their_source_does(language: str) -> None:
    """A full stop is neither lost nor doubled, and no space stands at either end."""
    for source, said in every_pair(language):
        assert said == said.strip()
        assert "  " not in said
        assert source[-1:] in ".?!:" or said[-1:] not in ".:;," or said in ABBREVIATED, said
        assert source[-1:] not in ".?!:" or said[-1:] == source[-1:] or said[-1:] == "!", said


def test_no_full_stop_is_doubled_by_an_abbreviation() -> None:
    """A dose or an amount at the end of a German sentence would bring its own."""
    amounts = {"dose", "done", "left", "amount", "low", "high", "now", "then"}
    ends = re.compile(r"\{(\w+)\}\.")
    found = [ends.findall(said) for _, said in every_pair("de")]
    assert [each for each in found if amounts & set(each)] == []


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_toast_fits_into_its_200_characters(language: str) -> None:
    toasts: list[Toast] = all_toasts()
    assert len(toasts) > 10
    for toast in toasts:
        said = speech_for(language).label(toast.sentence, **toast.facts)
        assert 1 <= len(said) <= 200, said


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_command_is_described_in_few_words(language: str) -> None:
    for what in INSTRUCTOR_COMMANDS.values():
        assert 1 <= len(speech_for(language).label(what)) <= 60


def test_languages_are_offered_in_their_own_names() -> None:
    assert [own_name(each) for each in LANGUAGES] == ["English", "Español", "Deutsch"]


@pytest.mark.parametrize("language", ["de", "de-AT", "DE", "de-CH"])
def test_a_region_is_no_other_language(language: str) -> None:
    assert speech_for(language).label("Skip") == "Überspringen"


@pytest.mark.parametrize("language", [None, "", "pt", "x", "en-US", "../es"])
def test_whoever_speaks_none_of_ours_is_spoken_to_in_english(language: str | None) -> None:
    assert speech_for(language).label("Skip") == "Skip"


@pytest.mark.parametrize(
    ("language", "number", "day", "moment", "listed"),
    [
        ("en", "7.5", "Thu 3 Sept", "Thu 3 Sept, 18:30", "Ana, Ben and Cleo"),
        ("es", "7,5", "jue, 3 sept", "jue, 3 sept, 18:30", "Ana, Ben y Cleo"),
        ("de", "7,5", "Do., 3. Sept.", "Do., 3. Sept., 18:30", "Ana, Ben und Cleo"),
    ],
)
def test_numbers_and_days_are_written_as_people_there_write_them(
    language: str, number: str, day: str, moment: str, listed: str
) -> None:
    speech = speech_for(language)
    assert speech.number(7.5) == number
    assert speech.number(7.0) == "7"
    assert speech.day(date(2026, 9, 3)) == day
    starts = datetime(2026, 9, 3, 17, 30, tzinfo=UTC)
    assert speech.moment(starts, "Europe/Lisbon") == moment
    assert speech.listed(["Ana", "Ben", "Cleo"]) == listed


@pytest.mark.parametrize(
    ("language", "one", "more"),
    [
        ("en", "1 answer so far.", "2 answers so far."),
        ("es", "1 respuesta hasta ahora.", "2 respuestas hasta ahora."),
        ("de", "Bisher 1 Antwort.", "Bisher 2 Antworten."),
    ],
)
def test_things_are_counted_by_the_rules_of_the_language(
    language: str, one: str, more: str
) -> None:
    def counted(speech: Speech, count: int) -> str:
        return speech.texts("{count} answer so far.", "{count} answers so far.", count)

    assert counted(speech_for(language), 1) == one
    assert counted(speech_for(language), 2) == more


@pytest.mark.parametrize("language", LANGUAGES)
def test_names_stand_in_a_sentence_as_they_are(language: str) -> None:
    name = 'O\'Brien & <b>"Zoë"</b> {count} 💪'
    said = speech_for(language).text("{name} reported a warning sign.", name=bold(name))
    assert '<b>O\'Brien &amp; &lt;b&gt;"Zoë"&lt;/b&gt; {count} 💪</b>' in said
    assert name in speech_for(language).label(
        "{name} stopped at {done} of {dose}.", name=name, done="5 s", dose="30 s"
    )


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_name_read_from_the_right_leaves_the_numbers_around_it_where_they_are(
    language: str,
) -> None:
    speech = speech_for(language)
    said = speech.text(
        "{name} says that {movement} is fine again. May it get harder?",
        name=bold("מרים"),
        movement="سلمى",
    )
    assert f"{ISOLATE}מרים{END_OF_ISOLATE}" in said
    assert f"{ISOLATE}سلمى{END_OF_ISOLATE}" in said
    assert ISOLATE not in speech.label("{day}, {what}", day="Do., 3. Sept.", what="Élan Größe 💪")
