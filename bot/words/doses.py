"""Doses and amounts as they are called out."""

from core.movement import Dose, Measure, Movement


def amount_words(amount: float, measure: Measure) -> str:
    """An amount with its unit, such as `30 s`, `8 reps` or `20 min`."""
    number = short(amount)
    match measure:
        case Measure.HOLD:
            return f"{number} s"
        case Measure.REPS | Measure.LOAD:
            return f"{number} rep" if amount == 1 else f"{number} reps"
        case Measure.MINUTES:
            return f"{number} min"


def dose_words(dose: Dose, movement: Movement) -> str:
    """A whole dose, such as `2 × 30 s, knees bent` or `2 × 8 at 20 kg`.

    A ladder of one variation has nothing to name.
    """
    set_of = set_words(dose, movement)
    work = set_of if dose.sets == 1 else f"{dose.sets} × {set_of.removesuffix(' reps')}"
    return work if len(movement.ladder) == 1 else f"{work}, {dose.variation}"


def set_words(dose: Dose, movement: Movement) -> str:
    """One set without its variation, such as `30 s`, `8 reps` or `8 at 20 kg`."""
    if dose.load is not None:
        return f"{short(dose.amount)} at {load_words(dose.load)}"
    return amount_words(dose.amount, movement.measure)


def load_words(load: float) -> str:
    """A load, such as `20 kg` or `1.25 kg`."""
    return f"{short(load)} kg"


def short(number: float) -> str:
    """A number to two decimals without needless zeros."""
    text = f"{number:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
