"""Cancelling, moving and adding classes: the question before, and what was done."""

from collections.abc import Iterable
from datetime import datetime

from bot.buttons import ClassesButton, Deed
from bot.timetable import local
from bot.words.classes import ClassFacts, Standing, back_key, deed_key, move_key, when_words
from bot.words.message import Key, Message, plain
from bot.words.speech import Speech, bold, later, lines
from bot.words.toasts import Toast

WAYS = {
    "earlier": later("1 hour earlier: {when}"),
    "later": later("1 hour later: {when}"),
    "before": later("The day before: {when}"),
    "after": later("The day after: {when}"),
}
"""Times that one tap moves a class to."""
UNDO, NEVER_MIND = later("Undo"), later("Never mind")


def cancel_question(speech: Speech, facts: ClassFacts, *, told: bool) -> Message:
    """Whether a class is to be cancelled; `told` says whether its digest has gone out."""
    if facts.standing is Standing.OVER:
        question = later(
            "Did the class of {group} on {when} not take place? Then its open questions are "
            "closed, and what was answered about it doesn't count."
        )
    else:
        question = later(
            "Should the class of {group} on {when} be cancelled? Nobody is asked about it then, "
            "and nobody has missed it."
        )
    return Message(
        text=lines(
            speech.text(question, group=bold(facts.group), when=when_words(speech, facts)),
            speech.text("Its digest has gone out already; I'll tell whoever else leads it.")
            if told
            else None,
        ),
        rows=(
            (deed_key(speech, later("Yes"), facts, Deed.CANCELLED),),
            (deed_key(speech, later("No, leave it as it is"), facts, Deed.SHOW),),
        ),
        personal=False,
    )


def cancelled(speech: Speech, facts: ClassFacts) -> Message:
    """A class is cancelled."""
    sentence = (
        later("Noted: the class of {group} on {when} didn't take place.")
        if facts.standing is Standing.NOT_HELD
        else later("Cancelled: the class of {group} on {when}.")
    )
    return _done(speech, facts, sentence, deed_key(speech, UNDO, facts, Deed.RESTORE))


def restored(speech: Speech, facts: ClassFacts) -> Message:
    """A class takes place after all."""
    sentence = (
        later("All right, the class of {group} on {when} was held.")
        if facts.standing is Standing.OVER
        else later("The class of {group} on {when} takes place after all.")
    )
    return _done(speech, facts, sentence, None)


def when_to_move(
    speech: Speech, facts: ClassFacts, ways: Iterable[tuple[str, datetime]]
) -> Message:
    """To when a class is to be moved; `ways` are the times that one tap chooses, with a name."""
    return Message(
        text=speech.text(
            "When should the class of {group} on {when} be instead? Tap, or write a day and a "
            "time, like this: {example}",
            group=bold(facts.group),
            when=when_words(speech, facts),
            example=example(speech, local(facts.starts_at, facts.zone)),
        ),
        rows=(
            *((move_key(name, facts, at, Deed.MOVE_TO),) for name, at in ways),
            (deed_key(speech, NEVER_MIND, facts, Deed.SHOW),),
        ),
        personal=False,
    )


def move_question(speech: Speech, facts: ClassFacts, to: datetime, *, told: bool) -> Message:
    """Whether a class is to be moved; `told` says whether its digest has gone out."""
    return Message(
        text=lines(
            speech.text(
                "Should the class of {group} on {when} be on {then} instead?",
                group=bold(facts.group),
                when=when_words(speech, facts),
                then=speech.moment(to, facts.zone),
            ),
            speech.text("Its digest has gone out already; I'll tell whoever else leads it.")
            if told
            else None,
        ),
        rows=(
            (move_key(speech.label("Yes, move it"), facts, to, Deed.MOVED),),
            (deed_key(speech, later("No, leave it as it is"), facts, Deed.SHOW),),
        ),
        personal=False,
    )


def moved(speech: Speech, facts: ClassFacts, before: datetime) -> Message:
    """A class is at another time now; one tap puts it back."""
    undo = move_key(speech.label(UNDO), facts, before, Deed.MOVED)
    sentence = later("Moved: the class of {group} is on {when} now, instead of {before}.")
    return _done(speech, facts, sentence, undo, before=speech.moment(before, facts.zone))


def when_to_add(
    speech: Speech, group: str, group_id: str, ways: Iterable[tuple[str, datetime]], like: datetime
) -> Message:
    """When another class is to be."""
    return Message(
        text=speech.text(
            "When is the extra class of {group}? Tap, or write a day and a time, like this: "
            "{example}",
            group=bold(group),
            example=example(speech, like),
        ),
        rows=(
            *((Key(name, ClassesButton(group_id, adds=True, at=at)),) for name, at in ways),
            (Key(speech.label(NEVER_MIND), ClassesButton(group_id)),),
        ),
        personal=False,
    )


def added(speech: Speech, facts: ClassFacts) -> Message:
    """There is another class; one tap takes it back."""
    undo = deed_key(speech, UNDO, facts, Deed.CANCELLED)
    return _done(speech, facts, later("Added: a class of {group} on {when}."), undo)


def taken(speech: Speech, group: str, other: str) -> Message:
    """Another class of the group is on at that time."""
    return Message(
        text=speech.text(
            "{group} has a class on {other} already, so nothing was changed. Please choose "
            "another time.",
            group=bold(group),
            other=other,
        ),
        personal=False,
    )


def not_a_moment(speech: Speech, like: datetime) -> Message:
    """What was written isn't a day and a time."""
    return Message(
        text=speech.text(
            "I couldn't read that as a day and a time, so nothing was changed. Please write it "
            "like {example}, or tap one of the buttons. /cancel drops it.",
            example=example(speech, like),
        ),
        personal=False,
    )


def example(speech: Speech, moment: datetime) -> str:
    """How a day and a time can be written, such as `03/09/2026 18:30`."""
    return f"{speech.short_day(moment.date())} {moment:%H:%M}"


def _done(
    speech: Speech, facts: ClassFacts, sentence: str, undo: Key | None, **more: object
) -> Message:
    text = speech.text(sentence, group=bold(facts.group), when=when_words(speech, facts), **more)
    past = facts.standing in (Standing.OVER, Standing.NOT_HELD)
    return Message(
        text=text,
        rows=(
            *([] if undo is None else [(undo,)]),
            *([] if past else [(deed_key(speech, later("Tell the members"), facts, Deed.TELL),)]),
            back_key(speech, facts),
        ),
        personal=False,
    )


IN_THE_PAST = plain(
    later("That moment is past, so nothing was changed. Please choose one to come.")
)
TOO_FAR = plain(
    later("That is more than a year ahead, so nothing was changed. Please choose an earlier day.")
)
HAS_BEGUN = plain(later("That class has begun already, so it stays as it is."))
TOLD_ALREADY = Toast(later("The members know that already."))
