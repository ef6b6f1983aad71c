"""The coming classes: cancelled, moved, added, and what others hear of it."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from enum import Enum, auto

from bot.buttons import ClassesButton, Deed, SessionButton
from bot.words.message import Key, Message
from bot.words.speech import Speech, bold, later, lines


class Standing(Enum):
    """How a class stands to its timetable."""

    AS_PLANNED = auto()
    MOVED = auto()
    ADDED = auto()
    CANCELLED = auto()
    OVER = auto()
    """It was held, as far as anybody knows."""
    NOT_HELD = auto()
    """It is past, and didn't take place."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ClassFacts:
    """One class, as it is told."""

    session: str
    group: str
    group_id: str
    starts_at: datetime
    zone: str
    minutes: int
    standing: Standing


LABELS = {
    Standing.AS_PLANNED: later("{when}"),
    Standing.MOVED: later("{when} · moved"),
    Standing.ADDED: later("{when} · extra"),
    Standing.CANCELLED: later("{when} · cancelled"),
    Standing.OVER: later("{when} · over"),
    Standing.NOT_HELD: later("{when} · not held"),
}
STANDINGS = {
    Standing.AS_PLANNED: None,
    Standing.MOVED: later("It was moved there from its usual time."),
    Standing.ADDED: later("It is an extra class."),
    Standing.CANCELLED: later("It is cancelled. Nobody is asked about it."),
    Standing.OVER: later("It is over."),
    Standing.NOT_HELD: later("It didn't take place. Nobody is asked about it."),
}


def classes_message(
    speech: Speech,
    *,
    group: str,
    group_id: str,
    classes: Iterable[ClassFacts],
    page: int,
    more: bool,
    from_calendar: bool,
) -> Message:
    """A page of the coming classes; `more` says whether another page follows."""
    shown = tuple(classes)
    source = (
        speech.text("They follow the calendar file that you sent. Send it again when it changes.")
        if from_calendar
        else speech.text("A calendar file (.ics) that you send me can plan them as well.")
    )
    return Message(
        text=lines(
            speech.text("The coming classes of {group}.", group=bold(group)),
            speech.text("Tap one to cancel or to move it.")
            if shown
            else speech.text("No class is planned in the next weeks."),
            source,
        ),
        rows=(
            *((_class_key(speech, each),) for each in shown),
            *_pages(speech, group_id, page, more=more),
            (Key(speech.label("Add a class"), ClassesButton(group_id, adds=True)),),
        ),
        personal=False,
    )


def class_message(speech: Speech, facts: ClassFacts) -> Message:
    """One class, and what can be done about it."""
    standing = STANDINGS[facts.standing]
    return Message(
        text=lines(
            speech.text(
                "{group} · {when}, {minutes} minutes",
                group=bold(facts.group),
                when=when_words(speech, facts),
                minutes=facts.minutes,
            ),
            None if standing is None else speech.text(standing),
        ),
        rows=(*_deeds(speech, facts), back_key(speech, facts)),
        personal=False,
    )


def _deeds(speech: Speech, facts: ClassFacts) -> tuple[tuple[Key, ...], ...]:
    match facts.standing:
        case Standing.CANCELLED:
            return ((deed_key(speech, later("It takes place after all"), facts, Deed.RESTORE),),)
        case Standing.NOT_HELD:
            return ((deed_key(speech, later("It was held after all"), facts, Deed.RESTORE),),)
        case Standing.OVER:
            return ((deed_key(speech, later("It didn't take place"), facts, Deed.CANCEL),),)
        case _:
            return (
                (deed_key(speech, later("Cancel it"), facts, Deed.CANCEL),),
                (deed_key(speech, later("Move it"), facts, Deed.MOVE),),
            )


def _pages(speech: Speech, group_id: str, page: int, *, more: bool) -> list[tuple[Key, ...]]:
    earlier = Key(speech.label("◂ Earlier"), ClassesButton(group_id, page - 1))
    following = Key(speech.label("Later ▸"), ClassesButton(group_id, page + 1))
    row = (*((earlier,) if page > 0 else ()), *((following,) if more else ()))
    return [row] if row else []


def _class_key(speech: Speech, facts: ClassFacts) -> Key:
    label = speech.label(LABELS[facts.standing], when=when_words(speech, facts))
    return Key(label, SessionButton(facts.session, facts.starts_at))


def deed_key(speech: Speech, label: str, facts: ClassFacts, deed: Deed) -> Key:
    """A button that does something about a class."""
    return Key(speech.label(label), SessionButton(facts.session, facts.starts_at, deed))


def move_key(label: str, facts: ClassFacts, to: datetime, deed: Deed) -> Key:
    """A button that puts a class at another time, or asks whether to."""
    return Key(label, SessionButton(facts.session, facts.starts_at, deed, to))


def back_key(speech: Speech, facts: ClassFacts) -> tuple[Key, ...]:
    """The way back to all classes."""
    return (Key(speech.label("All classes"), ClassesButton(facts.group_id)),)


def when_words(speech: Speech, facts: ClassFacts) -> str:
    """When a class is, where it is."""
    return speech.moment(facts.starts_at, facts.zone)
