"""Who was there: one key for each member, which says what tapping it would note."""

from dataclasses import dataclass

from bot.buttons.people import AttendanceButton, Presence, RosterButton
from bot.buttons.prompt import ShowButton
from bot.words.message import Key, Message, plain, short
from bot.words.speech import Html, Speech, bold, in_its_direction, later, lines
from bot.words.toasts import Toast
from core.questions import SESSION

ON_A_PAGE = 20
IN_A_ROW = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Seat:
    """One member in one class."""

    person: str
    name: str
    was_there: bool | None
    """None: nobody knows yet."""
    said_so: bool
    """Whether they have said it themselves, which counts."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Attendance:
    """Who was there in one class."""

    group_id: str
    group: str
    session: str
    when: str
    seats: tuple[Seat, ...]
    before: str | None
    """The class before it, by id."""
    after: str | None

    @property
    def pages(self) -> int:
        """How many pages there are, at least one."""
        return max(1, -(-len(self.seats) // ON_A_PAGE))

    def count(self, was_there: bool | None) -> int:
        """How many were there, weren't, or aren't known of."""
        return sum(each.was_there is was_there for each in self.seats)


def attendance_message(speech: Speech, facts: Attendance, page: int) -> Message:
    """One page of it."""
    page = max(0, min(page, facts.pages - 1))
    shown = facts.seats[page * ON_A_PAGE : (page + 1) * ON_A_PAGE]
    keys = [_seat(speech, facts, each, page) for each in shown]
    return Message(
        text=lines(
            speech.text("Who was there? {group}, {when}", group=bold(facts.group), when=facts.when),
            speech.text(
                "✓ {there} there, ✗ {away} not there, {unknown} not known",
                there=facts.count(True),
                away=facts.count(False),
                unknown=facts.count(None),
            ),
            "",
            speech.text(
                "Tap a name to say whether they were there. Who wasn't there isn't asked about "
                "this class. What somebody has said themselves (•) counts."
            ),
        ),
        rows=(
            *(tuple(keys[at : at + IN_A_ROW]) for at in range(0, len(keys), IN_A_ROW)),
            *_turning(speech, facts, page),
            *_others(speech, facts, page),
            (Key(speech.label("◂ Everyone"), RosterButton(facts.group_id)),),
        ),
    )


def _seat(speech: Speech, facts: Attendance, seat: Seat, page: int) -> Key:
    """Not known, there, not there, and round again."""
    mark = {True: "✓", False: "✗", None: "·"}[seat.was_there]
    following = {None: Presence.THERE, True: Presence.AWAY, False: Presence.UNKNOWN}
    label = f"{mark}{'•' if seat.said_so else ''} {in_its_direction(short(seat.name, 26))}"
    button = AttendanceButton(facts.session, page, following[seat.was_there], seat.person)
    return Key(label, button)


def _turning(speech: Speech, facts: Attendance, page: int) -> list[tuple[Key, ...]]:
    pages, classes = [], []
    if page > 0:
        pages.append(Key(speech.label("◂ Back"), AttendanceButton(facts.session, page - 1)))
    if page < facts.pages - 1:
        pages.append(Key(speech.label("More ▸"), AttendanceButton(facts.session, page + 1)))
    if facts.before is not None:
        classes.append(Key(speech.label("◂ Earlier class"), AttendanceButton(facts.before)))
    if facts.after is not None:
        classes.append(Key(speech.label("Later class ▸"), AttendanceButton(facts.after)))
    return [tuple(keys) for keys in (pages, classes) if keys]


def _others(speech: Speech, facts: Attendance, page: int) -> list[tuple[Key, ...]]:
    unknown, there = facts.count(None), facts.count(True)
    if not unknown or not there:
        return []
    label = speech.labels("The other one wasn't there", "The other {count} weren't there", unknown)
    return [(Key(label, AttendanceButton(facts.session, page, Presence.OTHERS)),)]


def others_question(speech: Speech, facts: Attendance, page: int) -> Message:
    """The one question before everybody else is noted as absent."""
    names = speech.listed(each.name for each in facts.seats if each.was_there is None)
    return Message(
        text=lines(
            speech.text("Note that these weren't there? {names}", names=short(names, 1500)),
            speech.text(
                "They aren't asked about this class; an open question is closed. A tap on a name "
                "takes it back."
            ),
        ),
        rows=(
            (
                Key(
                    speech.label("Yes, they weren't there"),
                    AttendanceButton(facts.session, page, Presence.OTHERS_AWAY),
                ),
            ),
            (Key(speech.label("No"), AttendanceButton(facts.session, page)),),
        ),
    )


def closed_as_absent(speech: Speech, group: str, day: str, prompt: str) -> Message:
    """In place of a member's open question: they weren't there, unless they say so."""
    return Message(
        text=_absent(speech, group, day),
        rows=((Key(speech.label("I was there"), ShowButton(prompt, SESSION)),),),
    )


def _absent(speech: Speech, group: str, day: str) -> Html:
    return speech.text(
        "Your instructor has noted that you weren't in {group} on {day}, so there is nothing to "
        "answer. See you next time!",
        group=bold(group),
        day=day,
    )


NO_CLASS_YET = plain(later("The first class hasn't begun yet, so there is nothing to note."))
SAID_THEMSELVES = Toast(later("They have said it themselves, and that counts."))
