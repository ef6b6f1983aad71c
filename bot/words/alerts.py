"""What the instructor is told about one member, with the evidence and what could be done."""

from collections.abc import Mapping

from bot.buttons import SeenButton
from bot.words.clearing import clear_key
from bot.words.message import Key, Message
from bot.words.speech import Html, Speech, bold, later, lines
from core.watching import Alert, AlertKind, Sighting

WHAT: Mapping[AlertKind, str] = {
    AlertKind.WARNING: later("{name} reported a warning sign."),
    AlertKind.PAIN: later("{name} reported joint or sharp pain."),
    AlertKind.MAXIMAL_CLASSES: later("{name} keeps going to the maximum."),
    AlertKind.MAXIMAL_MOVEMENT: later("{name} keeps going to the maximum."),
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
}
REPEATED = later("(You may have got this twice.)")


def alert_message(
    speech: Speech,
    alert: Alert,
    *,
    id: str,
    name: str,
    group: str,
    symptom: str | None,
    seen_by: str | None = None,
    over: bool = False,
) -> Message:
    """One alert: as it is raised, as it was seen, and, when it is over, as it stays in the chat."""
    rows = [] if seen_by or over else [(Key(speech.label("Seen"), SeenButton(id)),)]
    if symptom is not None and not over:
        rows.append((clear_key(speech, symptom),))
    return Message(
        text=lines(
            f"{'‼️' if alert.kind is AlertKind.WARNING else '❗️'} {group}",
            speech.text(WHAT[alert.kind], name=bold(name)),
            *(f"• {sighting_words(speech, each)}" for each in alert.evidence),
            "",
            speech.text(later("This no longer holds.") if over else WHAT_TO_DO[alert.kind]),
            speech.text("Seen by {name}.", name=seen_by) if seen_by else None,
        ),
        rows=tuple(rows),
    )


def alert_line(speech: Speech, alert: Alert, name: str) -> Html:
    """One alert in a digest."""
    evidence = "; ".join(sighting_words(speech, each) for each in alert.evidence)
    what = speech.text(WHAT[alert.kind], name=bold(name))
    return speech.text("❗️ {what} {evidence}", what=what, evidence=evidence)


def sighting_words(speech: Speech, sighting: Sighting) -> str:
    """One piece of evidence; plain text."""
    day, what = speech.day(sighting.on), sighting.movement or speech.label("whole class")
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
        return speech.label("{day}, {what}: {effort} of 10", day=day, what=what, effort=effort)
    if sighting.movement is None:  # a symptom that isn't about one movement, or not yet
        return day
    return speech.label("{day}, {what}", day=day, what=what)


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
