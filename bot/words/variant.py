"""What one member does next class, movement by movement, and why."""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from types import MappingProxyType

from bot.buttons import VerdictButton
from bot.words.clearing import well_again_key
from bot.words.doses import dose_words
from bot.words.estimates import estimate_key
from bot.words.message import Key, Message, fitting, plain, short
from bot.words.reasons import TO_THEM, Saying, because
from bot.words.safety import SHORT_CAUTION
from bot.words.speech import Html, Speech, bold, later, lines, small
from core.plan import Plan, PlanLine
from core.suggestion import ReasonKind, Suggestion
from core.verdict import Verdict

FULLNESS = ((True, True), (True, False), (False, False))
"""Whether reasons, and other ways, are told: less of it where a plan is too long for a message."""


def variant_message(
    speech: Speech,
    *,
    group: str,
    group_id: str,
    when: str,
    plan: Plan,
    told: Iterable[Suggestion],
    called: Mapping[str, Verdict] = MappingProxyType({}),
    symptoms: Iterable[tuple[str, str | None]] = (),
    running: str | None = None,
) -> Message:
    """The next class for one member; `symptoms` are the ones they may say are gone, by id.

    `called` are the movements that they called too hard or too easy, where that is the reason;
    `running` is the session's id while it is on: then they can say how it goes.
    """
    by_movement = {each.movement: each for each in told}
    unknown = all(each.reason.kind is ReasonKind.NOT_KNOWN for each in by_movement.values())
    said = [
        (by_movement[line.movement.name], line)
        for line in plan.lines
        if line.movement.name in by_movement
    ]
    why = {
        one.movement: because(speech, one, line.movement, called.get(one.movement))
        for one, line in said
        if not unknown  # said once, above all of them
    }
    head = lines(
        Html(f"{bold(group)} · {when}"),
        *(["", speech.text(TO_THEM[Saying.UNKNOWN])] if unknown else []),
    )
    return Message(
        text=fitting(
            lines(
                head,
                *(
                    _movement(speech, one, line, why.get(one.movement) if reasons else None, other)
                    for one, line in said
                ),
                "",
                small(speech.text(SHORT_CAUTION)),
            )
            for reasons, other in FULLNESS
        ),
        rows=(
            *((well_again_key(speech, symptom, movement),) for symptom, movement in symptoms),
            *([(estimate_key(speech, group_id),)] if unknown else []),
            *([] if running is None else [_verdicts(speech, running)]),
        ),
    )


def _verdicts(speech: Speech, session: str) -> tuple[Key, ...]:
    return (
        Key(speech.label("Too hard today"), VerdictButton(session, Verdict.HARD)),
        Key(speech.label("Too easy today"), VerdictButton(session, Verdict.EASY)),
    )


def which_movement(speech: Speech, plan: Plan, button: VerdictButton) -> Message:
    """They tapped that something is too hard or too easy; it remains to say what."""
    hard = button.verdict is Verdict.HARD
    question = later("What is too hard today?") if hard else later("What is too easy today?")
    return Message(
        text=speech.text(question),
        rows=(
            *(
                (Key(short(line.movement.name), replace(button, place=place)),)
                for place, line in enumerate(plan.lines)
            ),
            (Key(speech.label("Back"), VerdictButton(button.session, None)),),
        ),
    )


def verdict_noted(
    speech: Speech, line: PlanLine, mine: Suggestion | None, button: VerdictButton
) -> Message:
    """What was understood, with the other way to do it at once, and the way to say more."""
    hard = button.verdict is Verdict.HARD
    noted = later("{movement}: too hard today.") if hard else later("{movement}: too easy today.")
    other = mine.alternative if hard and mine is not None else None
    eased = (
        speech.text("Do less of it today; that is quite all right.")
        if other is None
        else speech.text(
            "The other way to do it: {dose}.", dose=dose_words(speech, other, line.movement)
        )
    )
    take_back = VerdictButton(button.session, None, button.place)
    return Message(
        text=lines(
            speech.text(noted, movement=bold(line.movement.name)),
            eased if hard else None,
            speech.text("It counts for next time."),
            small(speech.text(SHORT_CAUTION)),
        ),
        rows=(
            _verdicts(speech, button.session),
            (Key(speech.label("Take it back"), take_back),),
            (Key(speech.label("Show the class again"), VerdictButton(button.session, None)),),
        ),
    )


def _movement(
    speech: Speech, suggestion: Suggestion, line: PlanLine, why: str | None, other: bool
) -> Html:
    """One movement, after a gap; with the reason, and with the other way, if those are wanted."""
    dose = dose_words(speech, suggestion.dose, line.movement)
    sentence = (
        later("{movement}: {dose} (same as everyone)")
        if suggestion.dose == line.dose
        else later("{movement}: {dose}")
    )
    way = suggestion.alternative if other else None
    return lines(
        "",
        speech.text(sentence, movement=bold(suggestion.movement), dose=dose),
        why,
        None
        if way is None
        else small(speech.text("Or: {dose}", dose=dose_words(speech, way, line.movement))),
    )


CLASS_OVER = plain(
    later("That class is over: I'll ask you how it was. /variant shows what to do next class.")
)
NO_CLASS = plain(later("No class is planned at the moment."))
NOT_A_MEMBER = plain(
    later("You are not in a group yet. Please use the link that your instructor gave you.")
)
