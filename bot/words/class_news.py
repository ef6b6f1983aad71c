"""What others hear when a class is cancelled, moved or added."""

from datetime import date
from enum import Enum, auto

from bot.words.message import Message
from bot.words.speech import Speech, bold, later


def did_not_take_place(speech: Speech, group: str, on: date) -> Message:
    """Where the question about a class stood that was cancelled afterwards."""
    return Message(
        text=speech.text(
            "{group} · {day}: this class didn't take place, so there is nothing to answer.",
            group=bold(group),
            day=speech.day(on),
        )
    )


class News(Enum):
    """What others hear about a class."""

    CANCELLED = auto()
    ON = auto()
    """It takes place, or did, after all."""
    MOVED = auto()
    ADDED = auto()


TO_MEMBERS = {
    News.CANCELLED: later("{group}: the class on {when} is cancelled."),
    News.ON: later("{group}: the class on {when} takes place."),
    News.MOVED: later("{group}: the class of {before} is on {when} instead."),
    News.ADDED: later("{group}: there is an extra class on {when}."),
}
TO_INSTRUCTORS = {
    News.CANCELLED: later("{name} has cancelled the class of {group} on {when}."),
    News.ON: later("{name} says that the class of {group} on {when} takes place after all."),
    News.MOVED: later("{name} has moved the class of {group} from {before} to {when}."),
    News.ADDED: later("{name} has added a class of {group} on {when}."),
}


def news_for_members(speech: Speech, news: News, *, group: str, when: str, before: str) -> Message:
    """A class isn't when they expect it; `before` is when that was, of a moved one."""
    facts = {"group": bold(group), "when": when}
    if news is News.MOVED:
        facts["before"] = before
    return Message(text=speech.text(TO_MEMBERS[news], **facts), personal=False)


def news_for_instructors(
    speech: Speech, news: News, *, name: str, group: str, when: str, before: str
) -> Message:
    """Somebody else has changed a class that they lead."""
    facts = {"name": bold(name), "group": bold(group), "when": when}
    if news is News.MOVED:
        facts["before"] = before
    return Message(text=speech.text(TO_INSTRUCTORS[news], **facts))


def members_told(speech: Speech, count: int) -> Message:
    """The members have been told."""
    return Message(
        text=speech.texts("I've told {count} member.", "I've told {count} members.", count),
        personal=False,
    )
