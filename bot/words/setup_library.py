"""Movements chosen from the library, and all that were chosen, in the order of the class."""

from collections.abc import Iterable, Sequence

from bot.buttons.setup import Act, Stage, Step
from bot.planfile import MOST_MOVEMENTS
from bot.words.doses import dose_words
from bot.words.message import Message, short
from bot.words.setup import Row, Sketch, in_rows
from bot.words.speech import Html, Speech, in_its_direction, lines, small
from core.plan import PlanLine

ON_A_PAGE = 12
COLUMNS = 2


def library_page(sketch: Sketch, names: Sequence[str], page: int) -> Message:
    """The library, page by page."""
    speech = sketch.speech
    pages = -(-len(names) // ON_A_PAGE)
    page = min(page, pages - 1)
    some = names[page * ON_A_PAGE : (page + 1) * ON_A_PAGE]
    before, after = (page - 1) % pages, (page + 1) % pages
    turn = (
        sketch.show("‹", Stage.LIBRARY, str(before)),
        sketch.show(f"{page + 1}/{pages}", Stage.LIBRARY, str(page)),
        sketch.show("›", Stage.LIBRARY, str(after)),
    )
    text = lines(
        speech.text("Which movements does the class have? Tap one, or type a part of its name."),
        small(
            speech.text(
                "Movements of your own go into a plan file: /plan gives you one as soon as the "
                "group is made."
            )
            if sketch.group is None
            else speech.text("Movements of your own go into the plan file that /plan gives you.")
        ),
    )
    return _choosing(sketch, text, some, (turn,))


def found_page(sketch: Sketch, typed: str, names: Sequence[str]) -> Message:
    """Movements that what was typed may mean."""
    speech = sketch.speech
    text = (
        speech.text("These fit “{typed}”.", typed=short(typed, 40))
        if names
        else speech.text(
            "The library has nothing that fits “{typed}”, so nothing was chosen. Try another "
            "word, or look through the list. What it doesn't have goes into a plan file later.",
            typed=short(typed, 40),
        )
    )
    whole = sketch.show(speech.label("The whole list"), Stage.LIBRARY)
    return _choosing(sketch, text, names, ((whole,),))


def _choosing(sketch: Sketch, text: Html, names: Sequence[str], more: Iterable[Row]) -> Message:
    chosen = {line.movement.name for line in sketch.draft.lines}
    keys = [sketch.choice(name, Act.TAKE, sketch.ids[name], now=name in chosen) for name in names]
    count = len(sketch.draft.lines)
    done = sketch.show(
        sketch.speech.labels(
            "See the class: {count} movement", "See the class: {count} movements", count
        ),
        Stage.LINES,
    )
    back = Step(Stage.LINES) if count else None
    if back is None and sketch.group is None:
        back = Step(Stage.ZONE)
    rows = (*in_rows(keys, COLUMNS), *more, *([(done,)] if count else []))
    return sketch.page(text, rows, stage=Stage.LINES, back=back)


def lines_page(sketch: Sketch) -> Message:
    """All movements that were chosen, in the order of the class."""
    speech, draft = sketch.speech, sketch.draft
    text = (
        speech.text("This is the class. Tap a movement to change it.")
        if draft.lines
        else speech.text("The class has no movement yet.")
    )
    keys = [
        (sketch.show(_short_line(speech, at, line), Stage.LINE, sketch.ids[line.movement.name]),)
        for at, line in enumerate(draft.lines, start=1)
    ]
    add = sketch.show(speech.label("Add a movement"), Stage.LIBRARY)
    aim = speech.label("Target: {target}", target=speech.number(draft.target))
    extra = (add,) if len(draft.lines) < MOST_MOVEMENTS else ()
    if sketch.group is not None:
        extra = (*extra, sketch.show(aim, Stage.TARGET))
    following = Stage.TARGET if sketch.group is None else Stage.PREVIEW
    label = speech.label("Next") if sketch.group is None else speech.label("See what changes")
    done = ((sketch.show(label, following),),) if draft.lines else ()
    back = Step(Stage.ZONE) if sketch.group is None else None
    rows = (*keys, *([extra] if extra else []), *done)
    return sketch.page(text, rows, stage=Stage.LINES, back=back)


def _short_line(speech: Speech, at: int, line: PlanLine) -> str:
    dose = dose_words(speech, line.dose, line.movement)
    return f"{at}. {in_its_direction(line.movement.name)}: {dose}"
