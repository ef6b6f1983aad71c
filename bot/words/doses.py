"""Doses and amounts as they are called out; plain text."""

from bot.words.speech import Speech
from core.movement import Dose, Measure, Movement


def amount_words(speech: Speech, amount: float, measure: Measure) -> str:
    """An amount with its unit, such as `30 s`, `8 reps` or `20 min`."""
    number = speech.number(amount)
    match measure:
        case Measure.HOLD:
            return speech.label("{number} s", number=number)
        case Measure.REPS | Measure.LOAD:
            return speech.labels("{number} rep", "{number} reps", int(amount), number=number)
        case Measure.MINUTES:
            return speech.label("{number} min", number=number)


def dose_words(speech: Speech, dose: Dose, movement: Movement) -> str:
    """A whole dose, such as `2 × 30 s, knees bent` or `2 × 8 reps with 20 kg`.

    A ladder of one variation has nothing to name.
    """
    work = set_words(speech, dose, movement)
    if dose.sets > 1:
        work = speech.label("{sets} × {work}", sets=dose.sets, work=work)
    if len(movement.ladder) == 1:
        return work
    return speech.label("{work}, {variation}", work=work, variation=dose.variation)


def set_words(speech: Speech, dose: Dose, movement: Movement) -> str:
    """One set without its variation, such as `30 s`, `8 reps` or `8 reps with 20 kg`."""
    amount = amount_words(speech, dose.amount, movement.measure)
    if dose.load is None:
        return amount
    return speech.label("{amount} with {load} kg", amount=amount, load=speech.number(dose.load))
