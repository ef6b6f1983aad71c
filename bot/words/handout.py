"""What stands on the page to print, and under it."""

from collections.abc import Iterable

from bot.words.alerts import briefly
from bot.words.speech import Html, Speech, bold, lines
from core.digest import Digest


def count_line(speech: Speech, digest: Digest) -> str:
    """How many are expected."""
    return speech.labels(
        "{count} member expected", "{count} members expected", len(digest.expected)
    )


def name_label(speech: Speech) -> str:
    """Over the names."""
    return speech.label("Name")


def note_label(speech: Speech) -> str:
    """Over what there is to know about somebody."""
    return speech.label("To know")


def legend(speech: Speech) -> str:
    """What the numbers and triangles mean."""
    return speech.label(
        "The number is their option of that movement; ▾ easier and ▴ harder than their last time."
    )


def note(speech: Speech, digest: Digest, member: str) -> str:
    """What there is to know about one member, in few words."""
    return ", ".join(_notes(speech, digest, member))


def _notes(speech: Speech, digest: Digest, member: str) -> Iterable[str]:
    told = {briefly(speech, e): e for e in (*digest.alerts, *digest.seen) if e.member == member}
    yield from told
    if member in digest.paused:
        yield speech.label("on pause")
    if member in digest.new:
        yield speech.label("new")
    if any(member == each for each, _ in digest.returning):
        yield speech.label("after a break")


def caption(speech: Speech, group: str, when: str) -> Html:
    """Under the document."""
    return lines(
        bold(speech.text("{group}: one page to print", group=group)),
        speech.text("{when}. It names people: please don't leave it lying about.", when=when),
    )


def file_name(speech: Speech) -> str:
    """Of the document."""
    return speech.label("class.pdf")
