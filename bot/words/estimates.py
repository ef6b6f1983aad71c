"""Where a newcomer stands: one question for each movement, each of which may be skipped."""

from bot.buttons import EstimateButton
from bot.words.doses import set_words
from bot.words.message import Key, Message
from bot.words.speech import Html, Speech, bold, later, lines, small
from core.guessing import offers
from core.movement import Measure
from core.plan import Plan, PlanLine

KEYS_IN_A_ROW = 4
QUESTIONS = {
    Measure.HOLD: later("How long could you hold it at most?"),
    Measure.REPS: later("How many could you do in a row at most?"),
    Measure.LOAD: later("How much weight could you manage for that many?"),
    Measure.MINUTES: later("How long could you keep it up at most?"),
}


def estimate_key(speech: Speech, group: str) -> Key:
    """The way into these questions."""
    return Key(speech.label("Say what I can do"), EstimateButton(group, 0))


def estimate_message(speech: Speech, group: str, plan: Plan, place: int) -> Message:
    """The question about the movement at this place of the plan; past the last one, the thanks."""
    if place >= len(plan.lines):
        return Message(
            text=speech.text(
                "Thank you, that's a good start. Your ratings after class count for more. /variant "
                "shows what to do next class."
            )
        )
    line = plan.lines[place]
    keys = [
        Key(_offer(speech, line, at), EstimateButton(group, place, at))
        for at in range(len(offers(line)))
    ]
    rows = [
        tuple(keys[start : start + KEYS_IN_A_ROW]) for start in range(0, len(keys), KEYS_IN_A_ROW)
    ]
    skip = Key(speech.label("I don't know"), EstimateButton(group, place + 1))
    back = [Key(speech.label("Back"), EstimateButton(group, place - 1))] if place else []
    return Message(
        text=lines(
            _progress(speech, line, place, len(plan.lines)),
            _what(speech, line),
            speech.text(QUESTIONS[line.movement.measure]),
            small(speech.text("A rough guess will do. Please don't try it out.")),
        ),
        rows=(*rows, (*back, skip)),
    )


def _progress(speech: Speech, line: PlanLine, place: int, of_all: int) -> Html:
    return speech.text(
        "{movement} ({place} of {all})",
        movement=bold(line.movement.name),
        place=place + 1,
        all=of_all,
    )


def _what(speech: Speech, line: PlanLine) -> str:
    movement = line.movement
    if movement.measure is not Measure.LOAD:
        return movement.standard
    return speech.text(
        "{variation}, {reps} repetitions",
        variation=movement.standard,
        reps=speech.number(line.dose.amount),
    )


def _offer(speech: Speech, line: PlanLine, at: int) -> str:
    dose = offers(line)[at]
    if dose.load is not None:
        return speech.label("{load} kg", load=speech.number(dose.load))
    return set_words(speech, dose, line.movement)
