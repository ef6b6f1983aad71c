"""What the instructor is told about one member, with the evidence and what could be done."""

from bot.buttons import ClearButton, SeenButton
from bot.words.dates import day_words, number_words
from bot.words.message import Key, Message, bold, html
from core.watching import Alert, AlertKind, Sighting

_WHAT = {
    AlertKind.WARNING: "reported a warning sign",
    AlertKind.PAIN: "reported joint or sharp pain",
    AlertKind.MAXIMAL_CLASSES: "keeps going to the maximum",
    AlertKind.MAXIMAL_MOVEMENT: "keeps going to the maximum",
}
_WHAT_TO_DO = {
    AlertKind.WARNING: (
        "They were told to stop and to get medical help. Please check on them, and follow your "
        "local emergency rules. They should not train before a licensed professional says so."
    ),
    AlertKind.PAIN: (
        "It won't be made harder until you both clear it. Offer something that doesn't hurt, and "
        "send them to a licensed professional if it lasts."
    ),
    AlertKind.MAXIMAL_CLASSES: "Call out the easier option to them, and say that 7 is the aim.",
    AlertKind.MAXIMAL_MOVEMENT: "Call out the easier option to them, and say that 7 is the aim.",
}


REPEATED = "(You may have got this twice.)"


def alert_message(
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
    lines = [
        f"{'‼️' if alert.kind is AlertKind.WARNING else '❗️'} {bold(group)}",
        f"{bold(name)} {_WHAT[alert.kind]}.",
        *(f"• {html(sighting_words(each))}" for each in alert.evidence),
        "",
        "This no longer holds." if over else _WHAT_TO_DO[alert.kind],
        *([f"Seen by {html(seen_by)}."] if seen_by else []),
    ]
    rows = [] if seen_by or over else [(Key("Seen", SeenButton(id)),)]
    if symptom is not None and not over:
        rows.append((Key("Cleared: may get harder again", ClearButton(symptom)),))
    return Message(text="\n".join(lines), rows=tuple(rows))


def alert_line(alert: Alert, name: str) -> str:
    """One alert in a digest, in HTML."""
    evidence = "; ".join(sighting_words(each) for each in alert.evidence)
    return f"❗️ {bold(name)} {_WHAT[alert.kind]} ({html(evidence)})"


def sighting_words(sighting: Sighting) -> str:
    """One piece of evidence."""
    day = day_words(sighting.on)
    what = sighting.movement or "whole class"
    if sighting.completed is not None and sighting.dose is not None:
        done, planned = number_words(sighting.completed), number_words(sighting.dose.amount)
        return f"{day}, {what}: stopped at {done} of {planned}"
    if sighting.effort is not None:
        return f"{day}, {what}: {number_words(sighting.effort)} of 10"
    return f"{day}, {what}"


def unreachable_message(name: str, group: str) -> Message:
    """A member can't be written to any more."""
    return Message(
        text=f"I can't reach {bold(name)} ({html(group)}) any more: the chat refuses my messages. "
        "They may have blocked me. Once they write to me again, all goes on."
    )
