"""What stands on the instructor's picture and under it."""

from bot.words.doses import dose_words
from bot.words.speech import Html, Speech, bold, later, lines
from core.grid import Felt, Grid, OptionMark
from core.movement import Movement

FELT = {
    Felt.AS_PLANNED: later("as planned"),
    Felt.HARDER: later("harder"),
    Felt.EASIER: later("easier"),
    Felt.MAXIMAL: later("at the maximum"),
    Felt.UNRATED: later("there, not rated"),
    Felt.ABSENT: later("wasn't there"),
    Felt.SILENT: later("no answer"),
}
"""In the order of the legend; a square of somebody who had not begun yet stays empty."""


def title(speech: Speech) -> str:
    """Over the table of members and classes."""
    return speech.label("The last classes")


def spreads_title(speech: Speech) -> str:
    """Over the movements."""
    return speech.label("Who can do how much")


def person_label(speech: Speech) -> str:
    """What a mark on a movement's line means."""
    return speech.label("one member each, further right is stronger; the shape is their option")


def option_label(speech: Speech, target: float) -> str:
    """What a numbered post on a movement's line means."""
    return speech.label("where this option feels like {target}", target=speech.number(target))


def option_words(speech: Speech, option: OptionMark, movement: Movement) -> str:
    """An option with how many get it, such as `2 × 30 s, knees bent (4)`."""
    return speech.label(
        "{dose} ({count})",
        dose=dose_words(speech, option.dose, movement),
        count=speech.number(len(option.members)),
    )


def caption(speech: Speech, grid: Grid, *, group: str) -> Html:
    """The same in words."""
    silent = grid.count(Felt.SILENT)
    return lines(
        bold(speech.text("{group}: the last classes", group=group)),
        speech.text(
            "Classes as members felt them: {as_planned} as planned, {harder} harder, {easier} "
            "easier, {maximal} at the maximum.",
            as_planned=grid.count(Felt.AS_PLANNED),
            harder=grid.count(Felt.HARDER),
            easier=grid.count(Felt.EASIER),
            maximal=grid.count(Felt.MAXIMAL),
        ),
        speech.texts("No answer {count} time.", "No answer {count} times.", silent)
        if silent
        else None,
    )


def spreads_caption(speech: Speech, *, group: str) -> Html:
    """Under a picture that shows the movements alone."""
    return lines(
        bold(speech.text("{group}: who can do how much", group=group)),
        speech.text("The digest names everybody's option."),
    )
