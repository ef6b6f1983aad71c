"""A group's data as files for its instructors: what is in them, and how far they are."""

from collections.abc import Mapping

from bot.words.message import Message, plain
from bot.words.speech import Html, Speech, bold, later, lines

COLUMNS: Mapping[str, str] = {
    "member": later("Who, as you call them; of equal names the later ones carry a number."),
    "date": later("The local day of the class, such as 2026-09-03."),
    "movement": later("What was done; empty in a row about the whole class."),
    "variation": later("Which version of it, as in the plan."),
    "amount": later(
        "Seconds, repetitions or minutes of one set, as it was to be done; 0 in a row that says "
        "what somebody thought they could just do."
    ),
    "load": later("Kilograms; empty where there is none."),
    "completed": later(
        "How far somebody got who stopped early; 0 in a row about the whole class: wasn't there."
    ),
    "effort": later(
        "The rating from 0 to 10; empty where it wasn't rated. Where it says pain or warning, "
        "something hurts still, and nothing is made harder."
    ),
    "reserve": later(
        "How much more would have been possible, in seconds or repetitions; where amount is 0, "
        "what somebody thought they could just do."
    ),
}
"""What each column of the table means, in the table's own order."""
PARTS: Mapping[str, str] = {
    "exported_at": later("Moments are in UTC, written as 2026-03-01T19:05:00Z; days are local."),
    "group": later("The group, its time zone, and what its classes aim at."),
    "plans": later("Every plan file that the group had, with the moment from which on it held."),
    "members": later("Who takes part, took part, and since when; state says which."),
    "estimates": later("What members thought they could just do of a movement's standard version."),
    "symptoms": later("What members said hurts, and when they and an instructor cleared it."),
    "classes": later(
        "Each class with its answers: attended says whether somebody was there, noted that an "
        "instructor has noted so, sets how many; the other fields are as in the table."
    ),
}
"""What each part of the other file means."""


def about(speech: Speech) -> dict[str, dict[str, str] | str]:
    """What stands in the file beside the data, so that it explains itself."""
    return {
        **{name: speech.label(sentence) for name, sentence in PARTS.items()},
        "columns": {name: speech.label(sentence) for name, sentence in COLUMNS.items()},
        "left_out": speech.label(
            "Your private notes, the accounts of the members in the chat, and who was erased."
        ),
    }


def collecting(speech: Speech, group: str, done: int, of: int) -> Message:
    """How far a large export is, in hundredths."""
    percent = 100 if of <= 0 else min(100, 100 * done // of)
    return Message(
        text=speech.text(
            "Collecting the data of {group}: {percent} %", group=bold(group), percent=percent
        ),
        personal=False,
    )


def collected(speech: Speech, group: str, files: int) -> Message:
    """It is done; here is what the files are, and what not to do with them."""
    return Message(
        text=lines(
            speech.texts(
                "{group}: {count} file is on its way.",
                "{group}: {count} files are on their way.",
                files,
                group=bold(group),
            ),
            "",
            speech.text(
                "The table (CSV) opens in any spreadsheet. One row is one answer about a movement, "
                "or about the whole class where no movement stands. With it and the plan file, "
                "whoever runs me can get the same suggestions without the chat.",
            ),
            *(
                speech.text("• {column}: {meaning}", column=bold(name), meaning=speech.text(said))
                for name, said in COLUMNS.items()
            ),
            "",
            speech.text(
                "The other file (JSON) holds everything, also of those who have left, and explains "
                "itself. Both name people and their health: please keep them to yourself."
            ),
        ),
        personal=False,
    )


def caption(speech: Speech, group: str, part: int, of: int) -> Html:
    """Under one of the files."""
    if of == 1:
        return speech.text("{group}: for you as its instructor.", group=bold(group))
    return speech.text(
        "{group}: for you as its instructor. Part {part} of {of}; put one behind the other.",
        group=bold(group),
        part=part,
        of=of,
    )


ON_ITS_WAY_ALREADY = plain(later("That export is on its way already."))
EMPTY = plain(later("Nobody has joined yet, so there is nothing to export."))
