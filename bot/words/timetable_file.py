"""A calendar file: whose it is, what it would change, and why it can't be read."""

from collections.abc import Iterable, Sequence

from bot.buttons import CalendarButton
from bot.timetable.calendarfile import BadCalendar, Refusal
from bot.words.message import Key, Message, plain, short
from bot.words.speech import Html, Speech, bold, later, lines

MOST_CHOICES = 20
"""Titles to choose from; whoever has more had better send a smaller file."""
MOST_DATES = 3
"""Classes named of each kind of change."""


def which_group(speech: Speech, upload: str, led: Iterable[tuple[str, str]]) -> Message:
    """Whose timetable it is; `led` are groups by id, with their names."""
    return Message(
        text=speech.text("Which group is this calendar for?"),
        rows=(
            *((Key(short(name), CalendarButton(upload, group=group)),) for group, name in led),
            _none(speech, upload),
        ),
        personal=False,
    )


def which_events(speech: Speech, upload: str, group: str, titles: Sequence[str]) -> Message:
    """Which events are this group's classes; a title may be empty."""
    keys = [
        Key(short(each) or speech.label("Events without a name"), CalendarButton(upload, event=at))
        for at, each in enumerate(titles[:MOST_CHOICES])
    ]
    everything = Key(speech.label("All of them"), CalendarButton(upload, everything=True))
    return Message(
        text=lines(
            speech.text("Which of these events are the classes of {group}?", group=bold(group)),
            speech.text("There are more than I can show. A smaller file would be easier.")
            if len(titles) > MOST_CHOICES
            else None,
        ),
        rows=(*((key,) for key in keys), (everything,), _none(speech, upload)),
        personal=False,
    )


def preview(
    speech: Speech,
    upload: str,
    group: str,
    *,
    new: Sequence[str],
    moved: Sequence[tuple[str, str]],
    gone: Sequence[str],
    kept: Sequence[str],
) -> Message:
    """What a calendar would change; moments in words, of moved classes the old and the new one."""
    return Message(
        text=lines(
            speech.text("What this calendar changes for {group}:", group=bold(group)),
            changes_words(speech, new=new, moved=moved, gone=gone, kept=kept),
            "",
            speech.text("From then on your classes follow it, also those that come later."),
        ),
        rows=(
            (Key(speech.label("Yes, follow this calendar"), CalendarButton(upload, yes=True)),),
            _none(speech, upload),
        ),
        personal=False,
    )


def taken_over(speech: Speech, group: str, coming: Sequence[str]) -> Message:
    """A group follows a calendar now."""
    return Message(
        text=lines(
            speech.text("{group} follows this calendar now.", group=bold(group)),
            speech.text("Next: {dates}", dates="; ".join(coming)),
            speech.text("Send it again when it changes. /classes cancels or moves single classes."),
        ),
        personal=False,
    )


def told_of_timetable(
    speech: Speech,
    name: str,
    group: str,
    *,
    new: Sequence[str],
    moved: Sequence[tuple[str, str]],
    gone: Sequence[str],
) -> Message:
    """Somebody else has put in a timetable for a group that they lead."""
    return Message(
        text=lines(
            speech.text(
                "{name} has put in another timetable for {group}.",
                name=bold(name),
                group=bold(group),
            ),
            changes_words(speech, new=new, moved=moved, gone=gone, kept=()),
        )
    )


def changes_words(
    speech: Speech,
    *,
    new: Sequence[str],
    moved: Sequence[tuple[str, str]],
    gone: Sequence[str],
    kept: Sequence[str],
) -> Html:
    """What is new, at another time, no longer there, or left as it was made in the chat."""
    from_to = [
        speech.label("{old} → {new}", old=old, new=new_one) for old, new_one in moved[:MOST_DATES]
    ]
    said = [
        speech.texts(
            "• {count} new class: {dates}",
            "• {count} new classes: {dates}",
            len(new),
            dates=_some(new),
        )
        if new
        else None,
        speech.texts(
            "• {count} class at another time: {dates}",
            "• {count} classes at other times: {dates}",
            len(moved),
            dates=_some(from_to, len(moved)),
        )
        if moved
        else None,
        speech.texts(
            "• {count} class no longer takes place: {dates}",
            "• {count} classes no longer take place: {dates}",
            len(gone),
            dates=_some(gone),
        )
        if gone
        else None,
        speech.texts(
            "• {count} class stays as you changed it in /classes: {dates}",
            "• {count} classes stay as you changed them in /classes: {dates}",
            len(kept),
            dates=_some(kept),
        )
        if kept
        else None,
    ]
    if not (new or moved or gone):
        said.insert(0, speech.text("• No class of the coming twelve weeks changes."))
    return lines(*said)


def refused(speech: Speech, problem: BadCalendar) -> Message:
    """Why a calendar can't be used."""
    return Message(
        text=lines(
            speech.text(REFUSALS[problem.refusal], about=bold(short(problem.about) or "?")),
            speech.text("Nothing was changed."),
        ),
        personal=False,
    )


def _some(dates: Sequence[str], count: int | None = None) -> str:
    more = (len(dates) if count is None else count) > MOST_DATES
    return "; ".join((*dates[:MOST_DATES], *(["…"] if more else [])))


def _none(speech: Speech, upload: str) -> tuple[Key, ...]:
    return (Key(speech.label("No, change nothing"), CalendarButton(upload, yes=False)),)


REFUSALS = {
    Refusal.NO_CALENDAR: later("I can't read that file as a calendar (.ics)."),
    Refusal.NO_EVENTS: later("There is no event in that calendar."),
    Refusal.TOO_MANY: later(
        "That calendar has more than {about} events. Please send one with only your classes."
    ),
    Refusal.BROKEN: later("I can't read when the event {about} is."),
    Refusal.WHOLE_DAY: later(
        "The event {about} takes whole days. A class needs a time at which it starts."
    ),
    Refusal.RULE: later(
        "The event {about} repeats in a way that I can't follow. I take daily and weekly "
        "classes, with days left out, added or moved."
    ),
    Refusal.TOO_FAR: later(
        "The event {about} begins more than two years ago, or two years ahead. Please let your "
        "calendar begin it anew, and send the file again."
    ),
    Refusal.LENGTH: later(
        "The event {about} is shorter than five minutes or longer than ten hours, so it can't "
        "be a class."
    ),
    Refusal.ZONE: later("The calendar names a time zone that I don't know: {about}."),
}
UNCHANGED = plain(later("All right, the timetable stays as it is."))
ALREADY_SO = plain(later("Your classes follow this calendar already. Nothing has to be changed."))
NOTHING_AHEAD = plain(
    later("No event of that calendar is in the coming twelve weeks. Nothing was changed.")
)
TOO_LARGE = plain(
    later(
        "That file is larger than 256 KB, which is too large for a calendar of classes. Please "
        "send one with only your classes. Nothing was changed."
    )
)
NOT_TEXT = plain(later("I can't read that file as text (UTF-8). Nothing was changed."))
NO_GROUP_FOR_IT = plain(
    later("That is a calendar, but you don't lead a group yet. Please set up the group first.")
)
