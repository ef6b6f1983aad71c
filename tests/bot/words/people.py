"""What is said about people, with the longest facts; see `spoken`."""

from collections.abc import Iterable, Iterator
from typing import Any

from bot.buttons import RosterButton
from bot.words import (
    attendance,
    entrusting,
    exporting,
    leading,
    newcomers,
    notes,
    person,
    roster,
)
from bot.words.attendance import Attendance, Seat
from bot.words.leading import Leading, OpenLink, StandIn
from bot.words.message import Message
from bot.words.person import Card, ClassAnswer, NoteLine
from bot.words.roster import Line, Roster
from bot.words.speech import Html, Speech
from core.roster import Part, Trust
from tests.bot.words import longest
from tests.bot.words.longest import ID, LINK, ON, WHEN

Said = Iterable[Message]
MANY = 40


def about_people(speech: Speech, kind: str) -> dict[str, Said]:
    """Each message by the name of the function that makes it."""
    return _about_one(speech, kind) | _about_all(speech, kind) | _about_leading(speech, kind)


def captions_of_exports(speech: Speech, kind: str) -> Iterator[Html]:
    """What stands under the files of an export."""
    yield exporting.caption(speech, longest.name(kind), 1, 1)
    yield exporting.caption(speech, longest.name(kind), 12, 12)


def _card(kind: str, part: Part = Part.JOINED, **other: Any) -> Card:
    lines = tuple(NoteLine(id=ID, on=ON, text=longest.name(kind, at) * 7) for at in range(20))
    rated = tuple((longest.name(kind, at), None if at else 7.5) for at in range(3))
    answer = ClassAnswer(on=ON, attended=True, effort=7.5, movements=rated)
    given: dict[str, Any] = {
        "group_id": ID,
        "person": ID,
        "name": longest.name(kind),
        "chat_name": longest.name(kind, 1),
        "group": longest.name(kind, 2),
        "part": part,
        "since": ON,
        "until": None,
        "was_removed": True,
        "answers": (answer,) * 3,
        "alerts": (longest.name(kind),) * 4,
        "notes": lines,
    }
    return Card(**{**given, **other})


def _about_one(speech: Speech, kind: str) -> dict[str, Said]:
    card, name = _card(kind), longest.name(kind)
    silent = ClassAnswer(on=ON, attended=True, effort=None, movements=())
    absent = ClassAnswer(on=ON, attended=False, effort=None, movements=())
    bare = _card(kind, notes=(), answers=(silent, absent), chat_name=card.name)
    cards = [_card(kind, each, until=until) for each in Part for until in (None, ON)]
    return {
        "card_message": [
            person.card_message(speech, each)
            for each in (*cards, bare, _card(kind, Part.LEFT, was_removed=False, answers=()))
        ],
        "ask_name": [person.ask_name(speech, each) for each in (card, bare)],
        "renamed": [person.renamed(speech, card)],
        "notes_message": [notes.notes_message(speech, each) for each in (card, bare)],
        "ask_note": [notes.ask_note(speech, card)],
        "erase_note_question": [notes.erase_note_question(speech, card, card.notes[0])],
        "remove_question": [person.remove_question(speech, card)],
        "removed": [person.removed(speech, card)],
        "you_were_removed": [person.you_were_removed(speech, name)],
        "you_are_back": [person.you_are_back(speech, name)],
        "ask_newcomer": [newcomers.ask_newcomer(speech, ID, name)],
        "newcomer_link": [newcomers.newcomer_link(speech, name, name, LINK, WHEN)],
        "invited_card": [newcomers.invited_card(speech, ID, name, ID, name, WHEN)],
    }


def _about_all(speech: Speech, kind: str) -> dict[str, Said]:
    name, parts = longest.name(kind), tuple(Part)
    everyone = tuple(
        Line(id=ID, name=longest.name(kind, at), part=parts[at % len(parts)]) for at in range(MANY)
    )
    few = Roster(group_id=ID, group=name, everyone=everyone[:3], reading=1, session=None)
    many = Roster(group_id=ID, group=name, everyone=everyone, reading=12, session=ID)
    nobody = Roster(group_id=ID, group=name, everyone=(), reading=0, session=None)
    seats = tuple(
        Seat(
            person=ID,
            name=longest.name(kind, at),
            was_there=(True, False, None)[at % 3],
            said_so=at % 2 == 0,
        )
        for at in range(MANY)
    )
    held = Attendance(
        group_id=ID, group=name, session=ID, when=WHEN, seats=seats, before=ID, after=ID
    )
    return {
        "roster_message": [
            *(roster.roster_message(speech, many, page) for page in range(4)),
            *(roster.roster_message(speech, each, 0) for each in (few, nobody)),
        ],
        "choose_group": [
            roster.choose_group(
                speech, [(longest.name(kind, at), RosterButton(ID)) for at in range(20)]
            )
        ],
        "attendance_message": [
            attendance.attendance_message(speech, held, page) for page in (0, 1)
        ],
        "others_question": [attendance.others_question(speech, held, 0)],
        "closed_as_absent": [attendance.closed_as_absent(speech, name, WHEN, ID)],
        "collecting": [exporting.collecting(speech, name, at, 100_000) for at in (0, 99_999)],
        "collected": [exporting.collected(speech, name, at) for at in (1, 12)],
    }


def _about_leading(speech: Speech, kind: str) -> dict[str, Said]:
    name = longest.name(kind)
    trusts = tuple(Trust)
    facts = Leading(
        group_id=ID,
        group=name,
        instructors=tuple(longest.name(kind, at) for at in range(6)),
        links=tuple(
            OpenLink(id=ID, trust=trusts[at % 3], until=WHEN, when=WHEN) for at in range(20)
        ),
        stand_ins=tuple(StandIn(id=ID, name=longest.name(kind, at), when=WHEN) for at in range(20)),
    )
    asked = [
        entrusting.entrusted(speech, each, link=ID, group=name, by=name, when=WHEN)
        for each in trusts
    ]
    return {
        "leading_message": [leading.leading_message(speech, facts)],
        "which_class": [leading.which_class(speech, ID, each) for each in ([], [(ID, WHEN)] * 8)],
        "share_link": [leading.share_link(speech, name, LINK, WHEN)],
        "handover_question": [leading.handover_question(speech, ID, name)],
        "handover_link": [leading.handover_link(speech, name, LINK, WHEN)],
        "substitute_link": [leading.substitute_link(speech, name, WHEN, LINK)],
        "leave_question": [leading.leave_question(speech, ID, name)],
        "left": [leading.left(speech, name)],
        "somebody_left": [leading.somebody_left(speech, name, name)],
        "entrusted": asked,
        "accepted": [entrusting.accepted(speech, each, group=name, when=WHEN) for each in trusts],
        "somebody_accepted": [
            entrusting.somebody_accepted(speech, each, name=name, group=name, when=WHEN)
            for each in trusts
        ],
        "handed_over": [entrusting.handed_over(speech, name, name)],
        "no_longer_needed": [entrusting.no_longer_needed(speech, name, WHEN)],
        "declined_to_lead": [entrusting.declined_to_lead(speech, name)],
        "already_leads": [entrusting.already_leads(speech, name)],
        "warning_for_substitute": [entrusting.warning_for_substitute(speech, name, name)],
    }
