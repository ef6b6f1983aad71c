"""What the instructors hear after a class, and better demands for its plan."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from bot.buttons import AlertsButton, ClassButton
from bot.buttons.watching import AboutClass
from bot.words.alerts import briefly
from bot.words.calling import call_names
from bot.words.message import Key, Message
from bot.words.pages import pages
from bot.words.pitch import class_words
from bot.words.speech import Html, Speech, bold, lines, small
from core.alert import Alert
from core.demands import DemandChange
from core.pitch import Pitch

MOST_ALERTS = 12
MOST_CHANGES = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Summed:
    """One class as it is summed up."""

    group: str
    group_id: str
    session_id: str
    pitch: Pitch
    alerts: tuple[Alert, ...]
    """Those that came up about this class."""
    changes: tuple[DemandChange, ...]
    names: Mapping[str, str]
    taken: bool = False
    """Whether the demands were taken up."""


def summary_message(speech: Speech, summed: Summed) -> Message:
    """The whole of it, short; also as it stays in the chat when its demands were taken up."""
    names = call_names(summed.names)
    text = pages(
        [
            lines(
                speech.text(
                    "{group}, after class",
                    group=bold(summed.group),
                ),
                class_words(speech, summed.pitch),
                *_alerts(speech, summed.alerts, names),
            ),
            *([_demands(speech, summed)] if summed.changes else []),
        ]
    )[0]
    return Message(text=text, rows=tuple((key,) for key in _keys(speech, summed)))


def _alerts(
    speech: Speech, alerts: Sequence[Alert], names: Mapping[str, str]
) -> Iterable[Html | None]:
    if not alerts:
        return
    told = [
        speech.label("{name}: {what}", name=names[each.member], what=briefly(speech, each))
        for each in alerts[:MOST_ALERTS]
    ]
    yield speech.texts(
        "❗️ {count} alert: {alerts}",
        "❗️ {count} alerts: {alerts}",
        len(alerts),
        alerts=", ".join(told),
    )


def _demands(speech: Speech, summed: Summed) -> Html:
    changes = summed.changes[:MOST_CHANGES]
    head = (
        speech.text("These demands hold from now on:")
        if summed.taken
        else speech.text("By your group's own answers, some demands of the plan are off:")
    )
    return lines(
        head,
        *(
            speech.text(
                "• {movement}, {variation}: {believed} in place of {written}",
                movement=each.movement,
                variation=each.variation,
                believed=speech.number(each.believed),
                written=speech.number(each.written),
            )
            for each in changes
        ),
        small(
            speech.text(
                "A demand says how much a variation takes, against the standard one's 1. Better "
                "demands make better first suggestions."
            )
        ),
    )


def _keys(speech: Speech, summed: Summed) -> Iterable[Key]:
    if summed.changes and not summed.taken:
        apply = ClassButton(summed.session_id, AboutClass.APPLY)
        yield Key(speech.label("Use these from now on"), apply)
    if summed.taken:
        undo = ClassButton(summed.session_id, AboutClass.UNDO)
        yield Key(speech.label("Undo: the plan as it was"), undo)
    if summed.alerts:
        count = len(summed.alerts)
        label = speech.labels("Look at {count} alert", "Look at {count} alerts", count)
        yield Key(label, AlertsButton(summed.group_id))
