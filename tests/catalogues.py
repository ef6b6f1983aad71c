"""Brings the catalogues up to date with the sentences: `python -m tests.catalogues`."""

from collections.abc import Iterator
from io import BytesIO
from pathlib import Path

from babel.messages.catalog import Catalog, Message
from babel.messages.extract import extract_from_dir
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po

from bot.words.speech import DEFAULT, LANGUAGES

WORDS = Path(__file__).parents[1] / "bot" / "words"
FOLDER = WORDS / "catalogues"
KEYWORDS = {"text": None, "label": None, "later": None, "texts": (1, 2), "labels": (1, 2)}
"""The ways in which sentences are said; see `bot.words.speech`."""
HEADERS = ("Language:", "Plural-Forms:", "MIME-Version:", "Content-")
"""What is kept of a catalogue's header; the rest would change with every day and every Babel."""


def sentences() -> Catalog:
    """Every sentence that the bot can say, with where it stands."""
    found = Catalog(project="class-effort-bot", fuzzy=False)
    for name, line, message, comments, context in extract_from_dir(
        str(WORDS), method_map=[("**.py", "python")], keywords=KEYWORDS
    ):
        found.add(message, None, [(name, line)], auto_comments=comments, context=context)
    return found


def catalogue(language: str) -> Catalog:
    """What is translated into this language so far."""
    path = FOLDER / f"{language}.po"
    if not path.exists():
        return Catalog(locale=language, project="class-effort-bot", fuzzy=False)
    with path.open("rb") as file:
        return read_po(file, locale=language)


def updated(language: str) -> bytes:
    """The catalogue with new sentences empty and old ones gone; nothing is guessed."""
    known = catalogue(language)
    known.update(sentences(), no_fuzzy_matching=True)
    known.obsolete.clear()
    written = BytesIO()
    write_po(
        written,
        known,
        width=100,
        sort_by_file=True,
        include_lineno=False,
        omit_header=False,
        ignore_obsolete=True,
    )
    return _without_dates(written.getvalue())


def _without_dates(written: bytes) -> bytes:
    comment, mark, rest = written.partition(b'msgid ""\nmsgstr ""\n')
    header, gap, messages = rest.partition(b"\n\n")
    starts = tuple(f'"{each}'.encode() for each in HEADERS)
    kept = b"\n".join(line for line in header.split(b"\n") if line.startswith(starts))
    return comment + mark + kept + gap + messages


def compiled(language: str) -> bytes:
    """The catalogue as the bot reads it; the same sentences always become the same bytes."""
    known = catalogue(language)
    plain = _Undated(locale=language, charset="utf-8", fuzzy=False)
    plain.mime_headers = known.mime_headers  # its plural forms, which Babels differ about
    for message in known:
        if message.id:
            plain[message.id] = message
    written = BytesIO()
    write_mo(written, plain)
    return written.getvalue()


class _Undated(Catalog):
    """A catalogue whose header doesn't change with every day and every Babel."""

    def __iter__(self) -> Iterator[Message]:
        header, *messages = super().__iter__()
        kept = [line for line in str(header.string).splitlines(True) if line.startswith(HEADERS)]
        yield Message("", "".join(kept))
        yield from messages


def main() -> None:
    """Write the catalogue of every language but the one the sentences are written in."""
    for language in LANGUAGES:
        if language != DEFAULT:
            (FOLDER / f"{language}.po").write_bytes(updated(language))
            (FOLDER / f"{language}.mo").write_bytes(compiled(language))
            empty = sum(not message.string for message in catalogue(language) if message.id)
            print(f"{language}: {empty} sentences to translate")


if __name__ == "__main__":
    main()
