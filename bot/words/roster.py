"""The roster of a group: who takes part, page by page, and whom a link waits for."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from bot.buttons import Button
from bot.buttons.people import AttendanceButton, Lead, LeadButton, PersonButton, RosterButton
from bot.words.message import Key, Message, short
from bot.words.speech import Html, Speech, bold, later, lines
from core.roster import Part

ON_A_PAGE = 10
"""People on one page: about as many keys as a phone shows without scrolling."""
NAMED: Mapping[Part, str] = {
    Part.PAUSED: later("{name} · on pause"),
    Part.UNREACHABLE: later("{name} · can't be reached"),
    Part.INVITED: later("{name} · invited"),
    Part.LEFT: later("{name} · left"),
}
"""How somebody stands on a key; whoever has joined stands there by name alone."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One line of the roster."""

    id: str
    """Of the person, or of the link that waits for them."""
    name: str
    part: Part


@dataclass(frozen=True, slots=True, kw_only=True)
class Roster:
    """What a roster shows."""

    group_id: str
    group: str
    everyone: tuple[Line, ...]
    """In order."""
    reading: int
    """How many are reading the terms just now."""
    session: str | None
    """The class that began last, whose attendance can be noted; None before the first."""

    @property
    def pages(self) -> int:
        """How many pages there are, at least one."""
        return max(1, -(-len(self.everyone) // ON_A_PAGE))

    def count(self, *parts: Part) -> int:
        """How many stand to the group in one of these ways."""
        return sum(each.part in parts for each in self.everyone)


def roster_message(speech: Speech, roster: Roster, page: int) -> Message:
    """One page of it; each person is a button that leads to their card."""
    page = max(0, min(page, roster.pages - 1))
    shown = roster.everyone[page * ON_A_PAGE : (page + 1) * ON_A_PAGE]
    return Message(
        text=lines(bold(roster.group), *_counts(speech, roster), "", _where(speech, roster, page)),
        rows=(
            *((_key(speech, roster.group_id, each),) for each in shown),
            *_turning(speech, roster, page),
            *_more(speech, roster),
        ),
    )


def choose_group(speech: Speech, groups: Iterable[tuple[str, Button]]) -> Message:
    """An instructor of several groups says which one; each with the button that says so."""
    return Message(
        text=speech.text("Which group?"),
        rows=tuple((Key(short(name), button),) for name, button in groups),
        personal=False,
    )


def _counts(speech: Speech, roster: Roster) -> list[Html | None]:
    taking_part = roster.count(Part.JOINED, Part.PAUSED, Part.UNREACHABLE)
    paused, lost = roster.count(Part.PAUSED), roster.count(Part.UNREACHABLE)
    invited, reading = roster.count(Part.INVITED), roster.reading
    return [
        speech.texts("{count} member takes part.", "{count} members take part.", taking_part),
        speech.texts("{count} is on pause.", "{count} are on pause.", paused) if paused else None,
        speech.texts("{count} can't be reached.", "{count} can't be reached.", lost)
        if lost
        else None,
        speech.texts(
            "{count} was invited and isn't here yet.",
            "{count} were invited and aren't here yet.",
            invited,
        )
        if invited
        else None,
        speech.texts(
            "{count} is reading the terms just now.",
            "{count} are reading the terms just now.",
            reading,
        )
        if reading
        else None,
    ]


def _where(speech: Speech, roster: Roster, page: int) -> Html:
    if not roster.everyone:
        return speech.text("Nobody is here yet. /invite makes a link that anybody can join with.")
    if roster.pages == 1:
        return speech.text("Tap a name to see more.")
    return speech.text(
        "Page {page} of {pages}. Tap a name to see more.", page=page + 1, pages=roster.pages
    )


def _key(speech: Speech, group_id: str, line: Line) -> Key:
    # the name is cut, never what stands behind it
    name = short(line.name, 36)
    label = speech.label(NAMED[line.part], name=name) if line.part in NAMED else name
    if line.part is Part.INVITED:
        return Key(label, LeadButton(group_id, Lead.INVITED, line.id))
    return Key(label, PersonButton(group_id, line.id))


def _turning(speech: Speech, roster: Roster, page: int) -> list[tuple[Key, ...]]:
    keys = []
    if page > 0:
        keys.append(Key(speech.label("◂ Back"), RosterButton(roster.group_id, page - 1)))
    if page < roster.pages - 1:
        keys.append(Key(speech.label("More ▸"), RosterButton(roster.group_id, page + 1)))
    return [tuple(keys)] if keys else []


def _more(speech: Speech, roster: Roster) -> list[tuple[Key, ...]]:
    """What can be done for all of the group."""
    group = roster.group_id
    there = (
        []
        if roster.session is None
        else [(Key(speech.label("Who was there?"), AttendanceButton(roster.session)),)]
    )
    return [
        *there,
        (
            Key(speech.label("Invite by name"), LeadButton(group, Lead.NEWCOMER)),
            Key(speech.label("Instructors"), LeadButton(group, Lead.SHOW)),
        ),
    ]
