"""What is stored about me: exported with what each part means, or erased with a receipt."""

from collections.abc import Iterable, Mapping

from bot.buttons.personal import DataButton
from bot.words.message import Key, Message, plain
from bot.words.speech import Html, Speech, later, lines

ABOUT: Mapping[str, str] = {
    "moments": later("Moments are in UTC, written as 2026-03-01T19:05:00Z; days are local."),
    "person": later("Your name in the chat and its number, its language, and since when."),
    "settings": later(
        "What you chose with /settings; quiet hours in minutes since midnight, null where it is as "
        "in the beginning."
    ),
    "pause": later("Since when you want no questions, and until when."),
    "groups": later(
        "Where you take part, when you agreed to it, and what your instructors call you there."
    ),
    "groups_led": later("Groups that you lead."),
    "classes": later(
        "What you were told to do in each class (told), what you were asked about (asked), and "
        "your answers: number is a rating from 0 to 10 where the question is session or effort, "
        "number_from_6_to_20 the same as you gave it, else seconds, repetitions, minutes or "
        "kilograms, or a place in a list; word is an answer that is no number."
    ),
    "symptoms": later("What you said hurts, and when you and your instructor cleared it."),
    "alerts": later("What your instructors were told about you, and from which evidence."),
    "suggestions": later("What you were told to do in the last month's classes, and why."),
    "verdicts": later("What you called too hard or too easy during class."),
    "estimates": later("What you thought you could do of a movement at most."),
    "attendance": later("Whether you were there, where an instructor has noted it."),
    "notes": later("What your instructors have noted about you. Nobody else has these notes."),
    "substituting": later("Classes in which you stand in for an instructor."),
    "links_given": later("Links by which you let somebody lead a group or a class of yours."),
    "exports": later("When you had a group's data sent to you."),
    "drafts": later("Groups and plans that you have begun and not finished."),
}
COLUMNS = (
    "group",
    "day",
    "question",
    "movement",
    "variation",
    "amount_s_reps_or_min",
    "load_kg",
    "sets",
    "rating_0_to_10",
    "rating_6_to_20",
    "other_number",
    "word",
    "said_at_utc",
)
"""Of the table with the answers; its names say units."""


def about(speech: Speech) -> dict[str, str]:
    """What each part of the export means."""
    return {name: speech.label(sentence) for name, sentence in ABOUT.items()}


def my_data(speech: Speech, person: str) -> Message:
    """What can be done with it."""
    return Message(
        text=lines(
            speech.text("Everything that is stored about you is yours."),
            speech.text(
                "I can send it to you as two files: all of it as JSON, and your answers as a table "
                "(CSV). Or I can erase it for good."
            ),
        ),
        rows=(
            (Key(speech.label("Send me my data"), DataButton(person, "export")),),
            (Key(speech.label("Erase me"), DataButton(person, "erase")),),
        ),
    )


def json_caption(speech: Speech) -> Html:
    """Under the complete file."""
    return speech.text("All that is stored about you. Its first part says what each field means.")


def csv_caption(speech: Speech) -> Html:
    """Under the table."""
    return speech.text("Your answers as a table, one line for each, for any spreadsheet.")


def erase_question(speech: Speech, dialogue: str) -> Message:
    """The one question before it is done."""
    return Message(
        text=lines(
            speech.text("Erase everything that is stored about you?"),
            speech.text(
                "Your ratings, what you did, what you said hurts, your settings and your place in "
                "your groups will be gone, and can't be brought back. If you have reported pain, "
                "please tell your instructor about it yourself when you come back."
            ),
        ),
        rows=(
            (Key(speech.label("Yes, erase me for good"), DataButton(dialogue, "yes")),),
            (Key(speech.label("No, keep it"), DataButton(dialogue, "no")),),
        ),
    )


def leads_still(speech: Speech, groups: Iterable[str]) -> Message:
    """An instructor can't leave a group without anyone."""
    return Message(
        text=speech.text(
            "You still lead {groups}, so I can't erase you yet: your members would be left alone. "
            "Please hand the group over or delete it first; after that /mydata erases you. Your "
            "data can be exported at any time.",
            groups=speech.listed(groups),
        )
    )


def receipt(speech: Speech, *, groups: int, classes: int, answers: int, symptoms: int) -> Message:
    """What was erased, and what stays; said to somebody who is a stranger from now on."""
    return Message(
        text=lines(
            speech.text("<b>Done.</b> This is erased:"),
            speech.text("• your name in this chat, its number, and your settings"),
            speech.texts("• your place in {count} group", "• your place in {count} groups", groups)
            if groups
            else None,
            speech.text("• what you were told to do in classes, and all alerts about you"),
            speech.texts(
                "• what you were asked about {count} class",
                "• what you were asked about {count} classes",
                classes,
            )
            if classes
            else None,
            speech.texts("• {count} answer", "• {count} answers", answers) if answers else None,
            speech.texts(
                "• {count} report of something that hurt",
                "• {count} reports of something that hurt",
                symptoms,
            )
            if symptoms
            else None,
            "",
            speech.text(
                "Your instructor keeps the group, its plan and its dates: nothing about you. If a "
                "backup is put back, you are erased from it again; for that, only an unreadable "
                "fingerprint of your chat's number is kept."
            ),
            speech.text(
                "Messages that were sent stay in your chat and in your instructor's until someone "
                "deletes them there. Thank you for having been with us."
            ),
        ),
        personal=False,
    )


KEPT = plain(later("All right, everything stays as it is. /mydata asks again."))
