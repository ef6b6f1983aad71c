"""What instructors note about a member, for themselves and for whom it is about."""

from bot.buttons.people import Care
from bot.words.message import LONGEST_TEXT, Message, length, plain, short
from bot.words.person import Card, NoteLine
from bot.words.speech import Html, Speech, bold, later, lines, small
from bot.words.toasts import Toast


def notes_message(speech: Speech, card: Card) -> Message:
    """All notes about one member, newest first, as many as fit; each can be erased."""
    shown = len(card.notes)
    while shown > 1 and length(_notes_text(speech, card, shown)) > LONGEST_TEXT:
        shown -= 1
    erasing = [
        (
            card.key(
                speech.label("Erase: {note}", note=short(each.text, 36)), Care.ERASE_NOTE, each.id
            ),
        )
        for each in card.notes[:shown]
    ]
    return Message(
        text=_notes_text(speech, card, shown),
        rows=(
            *erasing,
            (card.key(speech.label("New note"), Care.NOTE),),
            (card.key(speech.label("◂ Back"), Care.CARD),),
        ),
    )


def _notes_text(speech: Speech, card: Card, shown: int) -> Html:
    return lines(
        speech.text("Notes about {name}", name=bold(card.name)),
        small(
            speech.text(
                "For this group's instructors. {name} gets them, too, when they ask for their data "
                "with /mydata, so write what you would say to them.",
                name=card.name,
            )
        ),
        "",
        *(
            speech.text("{day}: {note}", day=speech.day(each.on), note=each.text)
            for each in card.notes[:shown]
        ),
        None if card.notes else speech.text("There are none yet."),
    )


def ask_note(speech: Speech, card: Card) -> Message:
    """What should be remembered?"""
    return Message(
        text=lines(
            speech.text("What should I note about {name}? Write it to me.", name=bold(card.name)),
            speech.text(
                "Only the instructors of {group} see it, and {name} with /mydata.",
                group=card.group,
                name=card.name,
            ),
        ),
        rows=((card.key(speech.label("◂ Back"), Care.NOTES),),),
    )


def erase_note_question(speech: Speech, card: Card, note: NoteLine) -> Message:
    """The one question before a note is gone."""
    return Message(
        text=lines(
            speech.text("Erase this note for good?"),
            "",
            speech.text("{day}: {note}", day=speech.day(note.on), note=note.text),
        ),
        rows=(
            (card.key(speech.label("Yes, erase it"), Care.NOTE_ERASED, note.id),),
            (card.key(speech.label("No, keep it"), Care.NOTES),),
        ),
    )


NOT_A_NOTE = plain(later("A note is a text of 1 to 500 characters. Nothing was stored."))
ERASED = Toast(later("Erased."))
