"""How a class was felt against its target, and what to plan otherwise for everybody."""

from bot.words.doses import dose_words
from bot.words.speech import Html, Speech
from core.pitch import Pitch, RoomAdvice


def pitch_words(speech: Speech, pitch: Pitch) -> Html:
    """How a class was felt, in one line."""
    day = speech.day(pitch.on)
    if pitch.median is None or pitch.low is None or pitch.high is None:
        return speech.text(
            "Last class ({day}): {answered} of {asked} have answered, and nobody has rated it.",
            day=day,
            answered=pitch.answered,
            asked=pitch.asked,
        )
    return speech.text(
        "Last class ({day}): {median} in the middle, half of them from {low} to {high}, aimed at "
        "{target}; {in_range} of {rated} in range. {answered} of {asked} have answered.",
        day=day,
        median=_felt(speech, pitch.median),
        low=_felt(speech, pitch.low),
        high=_felt(speech, pitch.high),
        target=speech.number(pitch.target),
        in_range=pitch.in_range,
        rated=pitch.rated,
        answered=pitch.answered,
        asked=pitch.asked,
    )


def class_words(speech: Speech, pitch: Pitch) -> Html:
    """The same about a class that has just been answered about."""
    day = speech.day(pitch.on)
    answered = speech.text(
        "{answered} of {asked} have answered.", answered=pitch.answered, asked=pitch.asked
    )
    if pitch.median is None or pitch.low is None or pitch.high is None:
        return speech.text("{day}: nobody has rated it. {answers}", day=day, answers=answered)
    return speech.text(
        "{day}: {median} in the middle, half of them from {low} to {high}, aimed at {target}; "
        "{in_range} of {rated} in range. {answers}",
        day=day,
        median=_felt(speech, pitch.median),
        low=_felt(speech, pitch.low),
        high=_felt(speech, pitch.high),
        target=speech.number(pitch.target),
        in_range=pitch.in_range,
        rated=pitch.rated,
        answers=answered,
    )


def room_words(speech: Speech, advice: RoomAdvice) -> Html:
    """What to plan otherwise for the whole room, in one line."""
    movement = advice.line.movement
    return speech.text(
        "For the whole room: {movement} as planned ({planned}) would be {felt} for the middle of "
        "it; {instead} comes nearer to {target}.",
        movement=movement.name,
        planned=dose_words(speech, advice.line.dose, movement),
        felt=_felt(speech, advice.felt),
        instead=dose_words(speech, advice.instead, movement),
        target=speech.number(advice.line.target),
    )


def _felt(speech: Speech, effort: float) -> str:
    """What several people felt together: no more than one decimal means anything."""
    return speech.number(round(effort, 1))
