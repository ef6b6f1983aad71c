"""What the instructor is told about one member, with the evidence and what could be done."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from bot.buttons import AlertsButton, DealButton, SeenButton
from bot.buttons.watching import Dealing
from bot.words.clearing import clear_key
from bot.words.message import Key, Message
from bot.words.speech import Html, Speech, bold, in_its_direction, later, lines
from core.alert import OF_SYMPTOMS, Alert, AlertKind, Sighting

WHAT: Mapping[AlertKind, str] = {
    AlertKind.WARNING: later("{name} reported a warning sign."),
    AlertKind.PAIN: later("{name} reported joint or sharp pain."),
    AlertKind.MAXIMAL_CLASSES: later("{name} keeps going to the maximum."),
    AlertKind.MAXIMAL_MOVEMENT: later("{name} keeps going to the maximum."),
    AlertKind.FIRST_MAXIMAL: later("{name} went to the maximum in their first class."),
    AlertKind.ABOVE_RANGE: later("{name} felt several classes in a row harder than planned."),
    AlertKind.BELOW_RANGE: later("{name} felt several classes in a row easier than planned."),
    AlertKind.QUIET: later("{name} hasn't answered for several classes in a row."),
    AlertKind.BACK: later("{name} is back after a break."),
    AlertKind.LOAD: later("{name}'s week was far from their usual one."),
}
EASIER_OPTION = later("Call out the easier option to them, and say once more what the aim is.")
WHAT_TO_DO: Mapping[AlertKind, str] = {
    AlertKind.WARNING: later(
        "They were told to stop and to get medical help. Please check on them, and follow your "
        "local emergency rules. They should not train before a licensed professional says so."
    ),
    AlertKind.PAIN: later(
        "It won't be made harder until you have both cleared it. Offer something that doesn't "
        "hurt, and send them to a licensed professional if it lasts."
    ),
    AlertKind.MAXIMAL_CLASSES: EASIER_OPTION,
    AlertKind.MAXIMAL_MOVEMENT: EASIER_OPTION,
    AlertKind.FIRST_MAXIMAL: later(
        "Many newcomers think that all-out is the aim. Say what the aim is, and stay close to them "
        "next time."
    ),
    AlertKind.ABOVE_RANGE: later(
        "Their suggestions get easier by themselves. Ask how they are: sleep, illness and stress "
        "make everything harder."
    ),
    AlertKind.BELOW_RANGE: later(
        "Their suggestions get harder by themselves. Offer them the harder option, if they like."
    ),
    AlertKind.QUIET: later(
        "Ask them in person whether all is well, and whether the questions fit."
    ),
    AlertKind.BACK: later(
        "Their first classes start easier than they left off. Welcome them back."
    ),
    AlertKind.LOAD: later("This is only how much it was, and says nothing about any risk."),
}
REPEATED = later("(You may have got this twice.)")
BRIEFLY: Mapping[AlertKind, str] = {
    AlertKind.WARNING: later("warning sign"),
    AlertKind.PAIN: later("pain"),
    AlertKind.MAXIMAL_CLASSES: later("at the maximum"),
    AlertKind.MAXIMAL_MOVEMENT: later("at the maximum"),
    AlertKind.FIRST_MAXIMAL: later("first class at the maximum"),
    AlertKind.ABOVE_RANGE: later("harder than planned"),
    AlertKind.BELOW_RANGE: later("easier than planned"),
    AlertKind.QUIET: later("quiet"),
    AlertKind.BACK: later("back after a break"),
    AlertKind.LOAD: later("another week than usual"),
}
"""For lists and for paper."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Handled:
    """What has become of an alert."""

    seen_by: str | None = None
    """Names of instructors."""
    cleared_by: str | None = None
    cleared: bool = False
    note: str | None = None
    over: bool = False
    """Whether the history no longer says so."""


UNTOUCHED = Handled()


def alert_message(
    speech: Speech,
    alert: Alert,
    *,
    id: str,
    name: str,
    group: str,
    symptom: str | None,
    handled: Handled = UNTOUCHED,
    again: bool = False,
    following: AlertsButton | None = None,
) -> Message:
    """One alert: as it is raised, as it was seen, and, when it is over, as it stays in the chat.

    `again` says that nobody has seen it since it was first told; `following` is the way to the
    next one, where they are looked through.
    """
    rows = [(key,) for key in _keys(speech, alert, id, symptom, handled)]
    if following is not None:
        rows.append((Key(speech.label("Next alert"), following),))
    return Message(
        text=lines(
            speech.text("Nobody has marked this as seen yet:") if again else None,
            f"{'‼️' if alert.kind is AlertKind.WARNING else '❗️'} {in_its_direction(group)}",
            speech.text(WHAT[alert.kind], name=bold(name)),
            *(f"• {each}" for each in dict.fromkeys(evidence_words(speech, alert))),
            "",
            speech.text(later("This no longer holds.") if handled.over else WHAT_TO_DO[alert.kind]),
            speech.text("Seen by {name}.", name=handled.seen_by) if handled.seen_by else None,
            _cleared(speech, handled),
            speech.text("Note: {note}", note=handled.note) if handled.note else None,
        ),
        rows=tuple(rows),
    )


def _keys(
    speech: Speech, alert: Alert, id: str, symptom: str | None, handled: Handled
) -> Iterable[Key]:
    if handled.over:
        return
    if handled.cleared:
        yield Key(speech.label("Undo: it isn't cleared"), DealButton(id, Dealing.UNDO))
        return
    if handled.seen_by is None:
        yield Key(speech.label("Seen"), SeenButton(id))
    if symptom is not None:
        yield clear_key(speech, symptom)
    noting = later("Add a note") if alert.kind in OF_SYMPTOMS else later("Clear it, with a note")
    yield Key(speech.label(noting), DealButton(id, Dealing.ASK))


def _cleared(speech: Speech, handled: Handled) -> Html | None:
    if not handled.cleared:
        return None
    if handled.cleared_by is None:
        return speech.text("Cleared.")
    return speech.text("Cleared by {name}.", name=handled.cleared_by)


def note_question(speech: Speech, alert: Alert, *, id: str, name: str) -> Message:
    """What the instructor types next is the note."""
    rows = []
    if alert.kind not in OF_SYMPTOMS:
        rows.append((Key(speech.label("Clear it without a note"), DealButton(id, Dealing.PLAIN)),))
    rows.append((Key(speech.label("Leave it as it is"), DealButton(id, Dealing.LEAVE)),))
    return Message(
        text=lines(
            speech.text(WHAT[alert.kind], name=bold(name)),
            speech.text(
                "What is your note? Write it as a message of up to {most} letters. The other "
                "instructors of this group see it, and so does the member if they ask for "
                "everything that is stored about them.",
                most=LONGEST_NOTE,
            ),
        ),
        rows=tuple(rows),
    )


LONGEST_NOTE = 500


def note_too_long(speech: Speech) -> Message:
    """It would not fit."""
    return Message(
        text=speech.text(
            "That is longer than {most} letters, so nothing was stored. Please write less.",
            most=LONGEST_NOTE,
        )
    )


def no_alerts(speech: Speech, group: str) -> Message:
    """Nothing to look through."""
    return Message(text=speech.text("{group}: there are no open alerts.", group=bold(group)))


def evidence_words(speech: Speech, alert: Alert) -> Iterable[str]:
    """The evidence, piece by piece; plain text."""
    if alert.kind is AlertKind.BACK:
        yield speech.labels(
            "{day}: the first class after {count} day",
            "{day}: the first class after {count} days",
            alert.days_away,
            day=speech.day(alert.evidence[-1].on),
        )
        return
    for each in alert.evidence:
        yield sighting_words(speech, each)


def sighting_words(speech: Speech, sighting: Sighting) -> str:
    """One piece of evidence; plain text."""
    day, what = speech.day(sighting.on), sighting.movement or speech.label("whole class")
    if sighting.load is not None:
        return speech.label(
            "week of {day}: ratings times minutes make {load}, usually about {usual}",
            day=day,
            load=speech.number(round(sighting.load)),
            usual=speech.number(round(sighting.usual or 0)),
        )
    if sighting.completed is not None and sighting.dose is not None:
        return speech.label(
            "{day}, {what}: stopped at {done} of {planned}",
            day=day,
            what=what,
            done=speech.number(sighting.completed),
            planned=speech.number(sighting.dose.amount),
        )
    if sighting.effort is not None:
        effort = speech.number(sighting.effort)
        if sighting.reserve is not None and sighting.reserve <= 0:
            said = later("{day}, {what}: {effort} of 10, nothing left")
        else:
            said = later("{day}, {what}: {effort} of 10")
        return speech.label(said, day=day, what=what, effort=effort)
    if sighting.movement is None:  # a symptom that isn't about one movement, or not yet
        return day
    return speech.label("{day}, {what}", day=day, what=what)


ONE_BY_ONE = frozenset(
    {
        AlertKind.WARNING,
        AlertKind.PAIN,
        AlertKind.MAXIMAL_CLASSES,
        AlertKind.MAXIMAL_MOVEMENT,
        AlertKind.FIRST_MAXIMAL,
    }
)
"""What has a line of its own for each member in a digest; of the rest, one line names all."""
MOST_EVIDENCE = 2
"""Pieces of evidence in a line, the latest."""
GATHERED: Mapping[AlertKind, str] = {
    AlertKind.ABOVE_RANGE: later("❗️ Several classes in a row harder than planned: {names}"),
    AlertKind.BELOW_RANGE: later("❗️ Several classes in a row easier than planned: {names}"),
    AlertKind.QUIET: later("❗️ Several classes in a row without an answer: {names}"),
    AlertKind.BACK: later("❗️ Back after a break: {names}"),
    AlertKind.LOAD: later("❗️ A week far from their usual one: {names}"),
}


def alert_line(speech: Speech, alert: Alert, name: str) -> Html:
    """One alert in a digest, with the latest of its evidence."""
    latest = list(dict.fromkeys(evidence_words(speech, alert)))[-MOST_EVIDENCE:]
    what = speech.text(WHAT[alert.kind], name=bold(name))
    return speech.text("❗️ {what} {evidence}", what=what, evidence="; ".join(latest))


def gathered_line(speech: Speech, kind: AlertKind, names: str) -> Html:
    """Everybody about whom the same is to be said, in one line."""
    return speech.text(GATHERED[kind], names=names)


def unreachable_message(speech: Speech, name: str, group: str) -> Message:
    """A member can't be written to any more."""
    return Message(
        text=speech.text(
            "I can't reach {name} ({group}) any more: the chat refuses my messages. They may have "
            "blocked me. Once they write to me again, all goes on.",
            name=bold(name),
            group=group,
        )
    )


def briefly(speech: Speech, alert: Alert) -> str:
    """What it is about in a few words; plain text."""
    what = speech.label(BRIEFLY[alert.kind])
    movement = alert.evidence[0].movement if alert.evidence else None
    if alert.kind in OF_SYMPTOMS and movement is not None:
        return speech.label("{what} ({movement})", what=what, movement=movement)
    return what
