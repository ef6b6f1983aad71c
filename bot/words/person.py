"""One member as their instructors see them: state and last answers; renamed, removed."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from bot.buttons.people import Care, PersonButton, RosterButton
from bot.words.message import Key, Message, plain, short
from bot.words.speech import Html, Speech, bold, later, lines, small
from bot.words.toasts import Toast
from core.roster import Part

NOTES_ON_CARD = 2
SHOWN_OF_NOTE = 150
"""Characters of a note on a card; all of it stands among the notes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ClassAnswer:
    """What somebody said of one class."""

    on: date
    attended: bool
    effort: float | None
    movements: tuple[tuple[str, float | None], ...]
    """Each that was rated or cut short, with its rating; None where it was cut short."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NoteLine:
    """One note with the day on which it was written."""

    id: str
    on: date
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """What there is to know about one member."""

    group_id: str
    person: str
    """Their id."""
    name: str
    """What the instructors call them."""
    chat_name: str
    group: str
    part: Part
    since: date
    until: date | None
    was_removed: bool
    answers: tuple[ClassAnswer, ...]
    """Of the last classes, newest first."""
    alerts: tuple[str, ...]
    """The evidence of each that still holds; plain text."""
    notes: tuple[NoteLine, ...]
    """Newest first."""

    def key(self, label: str, care: Care, note: str | None = None) -> Key:
        """A button that does something about them."""
        return Key(label, PersonButton(self.group_id, self.person, care, note))


def card_message(speech: Speech, card: Card) -> Message:
    """The card, with what can be done."""
    return Message(
        text=lines(
            bold(card.name),
            speech.text("In the chat: {name}", name=card.chat_name)
            if card.chat_name != card.name
            else None,
            _state(speech, card),
            "",
            *(speech.text("❗️ Alert: {evidence}", evidence=each) for each in card.alerts),
            *_answers(speech, card),
            "" if card.notes else None,
            *_first_notes(speech, card),
        ),
        rows=tuple(_keys(speech, card)),
    )


def _state(speech: Speech, card: Card) -> Html:
    day, group = speech.day(card.since), card.group
    match card.part:
        case Part.PAUSED if card.until is not None:
            until = speech.day(card.until)
            return speech.text("On pause until {until} ({group})", until=until, group=group)
        case Part.PAUSED:
            return speech.text("On pause since {day} ({group})", day=day, group=group)
        case Part.UNREACHABLE:
            return speech.text("Can't be reached since {day} ({group})", day=day, group=group)
        case Part.LEFT if card.was_removed:
            return speech.text("Removed on {day} ({group})", day=day, group=group)
        case Part.LEFT:
            return speech.text("Left on {day} ({group})", day=day, group=group)
        case Part.JOINED | Part.INVITED:
            return speech.text("Joined on {day} ({group})", day=day, group=group)


def _answers(speech: Speech, card: Card) -> Iterable[Html]:
    if not card.answers:
        yield speech.text("No answers yet.")
    for each in card.answers:
        day = speech.day(each.on)
        parts = [
            speech.label("{movement} cut short", movement=movement)
            if effort is None
            else speech.label(
                "{movement} {effort}", movement=movement, effort=speech.number(effort)
            )
            for movement, effort in each.movements
        ]
        if not each.attended:
            yield speech.text("{day}: wasn't there", day=day)
        elif each.effort is None and not parts:
            yield speech.text("{day}: was there", day=day)
        else:
            whole = [] if each.effort is None else [_whole(speech, each.effort)]
            yield speech.text("{day}: {answers}", day=day, answers=", ".join([*whole, *parts]))


def _whole(speech: Speech, effort: float) -> str:
    return speech.label("{effort} of 10", effort=speech.number(effort))


def _first_notes(speech: Speech, card: Card) -> Iterable[Html]:
    for each in card.notes[:NOTES_ON_CARD]:
        day = speech.day(each.on)
        yield small(
            speech.text("Note, {day}: {note}", day=day, note=short(each.text, SHOWN_OF_NOTE))
        )
    more = len(card.notes) - NOTES_ON_CARD
    if more > 0:
        yield small(speech.texts("and {count} more note", "and {count} more notes", more))


def _keys(speech: Speech, card: Card) -> Iterable[tuple[Key, ...]]:
    notes = card.key(speech.label("Notes"), Care.NOTES)
    if card.part is Part.LEFT:
        if card.was_removed:
            yield (card.key(speech.label("Let them take part again"), Care.RETURN),)
        yield (notes,)
    else:
        yield (card.key(speech.label("Change the name"), Care.NAME), notes)
        yield (card.key(speech.label("Remove from the group"), Care.REMOVE),)
    yield (Key(speech.label("◂ Everyone"), RosterButton(card.group_id)),)


def ask_name(speech: Speech, card: Card) -> Message:
    """What should they be called here?"""
    own = card.key(speech.label("As in the chat"), Care.CHAT_NAME)
    back = card.key(speech.label("Leave it as it is"), Care.CARD)
    return Message(
        text=lines(
            speech.text(
                "What do you call {name} in {group}? Write it to me.",
                name=bold(card.name),
                group=card.group,
            ),
            speech.text(
                "The instructors of this group see that name. In the chat they are called {name}, "
                "and that stays so.",
                name=card.chat_name,
            ),
        ),
        rows=((own,), (back,)) if card.name != card.chat_name else ((back,),),
    )


def renamed(speech: Speech, card: Card) -> Message:
    """They are called so from now on."""
    return Message(
        text=speech.text(
            "Noted: in {group} I call them {name} from now on.",
            name=bold(card.name),
            group=card.group,
        ),
        rows=((card.key(speech.label("◂ Back"), Care.CARD),),),
    )


def remove_question(speech: Speech, card: Card) -> Message:
    """The one question before somebody is removed."""
    return Message(
        text=lines(
            speech.text(
                "Remove {name} from {group}?", name=bold(card.name), group=bold(card.group)
            ),
            speech.text(
                "They get no more questions and no suggestions, and I tell them so politely. What "
                "they answered stays in the figures of past classes. You can take it back later."
            ),
        ),
        rows=(
            (card.key(speech.label("Yes, remove"), Care.REMOVED),),
            (card.key(speech.label("No, keep them"), Care.CARD),),
        ),
    )


def removed(speech: Speech, card: Card) -> Message:
    """They no longer take part, which can be undone."""
    return Message(
        text=speech.text(
            "{name} no longer takes part in {group}. An old link would let them join again; "
            "/invite makes a new one.",
            name=bold(card.name),
            group=card.group,
        ),
        rows=(
            (card.key(speech.label("Undo"), Care.RETURN),),
            (Key(speech.label("◂ Everyone"), RosterButton(card.group_id)),),
        ),
    )


def you_were_removed(speech: Speech, group: str) -> Message:
    """Told to whoever was removed."""
    return Message(
        text=speech.text(
            "You no longer take part in {group}, so I won't ask you about its classes any more. "
            "Thank you for your answers. If you think this is a mistake, please talk to your "
            "instructor. /mydata sends you what is stored about you, or erases it.",
            group=bold(group),
        ),
        personal=False,
    )


def you_are_back(speech: Speech, group: str) -> Message:
    """Told to whoever takes part again."""
    return Message(
        text=speech.text(
            "You take part in {group} again. /variant shows what to do next class.",
            group=bold(group),
        ),
        personal=False,
    )


NOT_A_NAME = plain(
    later("That can't be a name: please write one line of 1 to 64 visible characters.")
)
NOTHING_CHANGED = plain(later("That can't be changed any more. Nothing was stored."))
NOTHING_CHANGED = plain(later("That can't be changed any more. Nothing was stored."))
BACK_AGAIN = Toast(later("They take part again."))
