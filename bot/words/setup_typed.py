"""What is said to something typed that doesn't fit the question on screen."""

from bot.buttons.setup import Stage
from bot.planfile import MOST_MOVEMENTS
from bot.words.message import short
from bot.words.speech import Html, Speech
from bot.words.timetables import day_words
from core.names import LONGEST_NAME
from core.plan import PlanLine


def not_understood(speech: Speech, stage: Stage, line: PlanLine | None) -> Html:
    """What was expected instead; nothing was stored."""
    match stage:
        case Stage.NAME:
            return speech.text(
                "I expected a name of 1 to {most} letters on one line. Nothing was stored.",
                most=LONGEST_NAME,
            )
        case Stage.DAYS:
            return speech.text(
                "I expected days of the week, such as: {example}. Nothing was stored.",
                example=day_words(speech, (0, 3)),
            )
        case Stage.CLOCK:
            return speech.text(
                "I expected a time of day, such as 18:15 or 6:15 pm. Nothing was stored."
            )
        case Stage.MINUTES:
            return speech.text("I expected 5 to 600 minutes, such as 50. Nothing was stored.")
        case Stage.TARGET:
            return speech.text(
                "I expected an effort from 1 up to below the ceiling, such as 7 or 6.5. Nothing "
                "was stored."
            )
        case Stage.LINE if line is not None:
            return _not_a_dose(speech, line)
        case _:
            return speech.text("Please use the buttons here. Nothing was stored.")


def _not_a_dose(speech: Speech, line: PlanLine) -> Html:
    movement = line.movement
    smallest, largest = speech.number(movement.smallest), speech.number(movement.largest)
    if movement.load_step is not None:
        return speech.text(
            "I expected sets, repetitions from {smallest} to {largest} and kilograms, such as "
            "3 x 8 x 20. Nothing was stored.",
            smallest=smallest,
            largest=largest,
        )
    return speech.text(
        "I expected an amount from {smallest} to {largest}, such as {largest} or 2 x {smallest}. "
        "Nothing was stored. A plan file can hold other amounts.",
        smallest=smallest,
        largest=largest,
    )


def name_taken(speech: Speech, name: str) -> Html:
    """Two groups of one name could not be told apart."""
    return speech.text(
        "You lead a group called {name} already. Please take another name, so that you can tell "
        "them apart.",
        name=name,
    )


def no_zone(speech: Speech, typed: str) -> Html:
    """No city, country or clock fits."""
    return speech.text(
        "I know no city or country called “{typed}”, so nothing was stored. Try a larger city "
        "near you, or the time that your clock shows.",
        typed=short(typed, 40),
    )


def full(speech: Speech) -> Html:
    """A class can't have more movements."""
    return speech.text(
        "A class can have {most} movements at most. Take one out to add another.",
        most=MOST_MOVEMENTS,
    )
