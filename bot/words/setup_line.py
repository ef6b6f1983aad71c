"""One movement of a plan in progress: its variation, dose, target and place."""

from collections.abc import Iterable

from bot.buttons.setup import Act, Stage, Step
from bot.words.doses import amount_words, dose_words
from bot.words.message import Message
from bot.words.setup import Row, Sketch, in_rows
from bot.words.speech import Html, Speech, bold, lines, small
from core.library import Ladder, ladder
from core.movement import Measure
from core.plan import PlanLine

COLUMNS = 2
TARGETS = (4.0, 5.0, 6.0, 6.5, 7.0, 7.5, 8.0)
"""Efforts that are offered; every other one can be typed."""
SETS = (1, 2, 3, 4, 5)
BELOW, OFFERED = 3, 8
"""How many amounts are offered, and how many of them are smaller than the one that holds."""


def line_page(sketch: Sketch, line: PlanLine) -> Message:
    """One movement, with everything about it that can be chosen."""
    speech, movement = sketch.speech, line.movement
    known = ladder(movement.name)
    text = lines(
        bold(movement.name),
        *(small(each) for each in _about(known)),
        speech.text(
            "{dose}; effort aimed at {target}",
            dose=dose_words(speech, line.dose, movement),
            target=speech.number(line.target),
        ),
        "",
        _what_to_type(speech, movement.measure),
    )
    at = sketch.draft.lines.index(line)
    about, label = sketch.ids[movement.name], speech.label
    target = label("Target: {target}", target=speech.number(line.target))
    order = [
        *([sketch.key(label("Earlier"), Act.PLACE, f"{about}:{at - 1}")] if at else []),
        *(
            [sketch.key(label("Later"), Act.PLACE, f"{about}:{at + 1}")]
            if at + 1 < len(sketch.draft.lines)
            else []
        ),
        sketch.show(target, Stage.TARGET, about),
        sketch.show(label("Take it out"), Stage.DROP, about),
    ]
    ways = (
        sketch.show(label("Add another"), Stage.LIBRARY),
        sketch.show(label("See the class"), Stage.LINES),
    )
    return sketch.page(
        text,
        (*_variations(sketch, line, about), *_doses(sketch, line, about), tuple(order), ways),
        stage=Stage.LINES,
    )


def _about(known: Ladder | None) -> Iterable[str]:
    return () if known is None else filter(None, (known.about, known.caution))


def _what_to_type(speech: Speech, measure: Measure) -> Html:
    match measure:
        case Measure.HOLD:
            return speech.text("Tap what is different, or type it: 2 x 30 is two sets of 30 s.")
        case Measure.REPS:
            return speech.text("Tap what is different, or type it: 2 x 10 is two sets of 10.")
        case Measure.LOAD:
            return speech.text(
                "Tap what is different, or type it: 3 x 8 x 20 is three sets of 8 with 20 kg."
            )
        case Measure.MINUTES:
            return speech.text("Tap what is different, or type it: 20 is twenty minutes.")


def _variations(sketch: Sketch, line: PlanLine, about: str) -> Iterable[Row]:
    names = [each.name for each in line.movement.ladder]
    if len(names) == 1:
        return
    keys = [
        sketch.choice(name, Act.VARIATION, f"{about}:{rung}", now=name == line.dose.variation)
        for rung, name in enumerate(names)
    ]
    yield from in_rows(keys, COLUMNS)


def _doses(sketch: Sketch, line: PlanLine, about: str) -> Iterable[Row]:
    speech, dose, movement = sketch.speech, line.dose, line.movement
    yield tuple(
        sketch.choice(f"{each} ×", Act.SETS, f"{about}:{each}", now=each == dose.sets)
        for each in dict.fromkeys((*SETS, dose.sets))
    )
    amounts = around(dose.amount, movement.step, movement.smallest, movement.largest)
    yield from in_rows(
        [
            sketch.choice(
                amount_words(speech, each, movement.measure),
                Act.AMOUNT,
                f"{about}:{each:g}",
                now=each == dose.amount,
            )
            for each in amounts
        ]
    )
    if dose.load is not None and movement.load_step is not None:
        loads = around(dose.load, movement.load_step, movement.load_step, 1000)
        yield from in_rows(
            [
                sketch.choice(
                    speech.label("{load} kg", load=speech.number(each)),
                    Act.LOAD,
                    f"{about}:{each:g}",
                    now=each == dose.load,
                )
                for each in loads
            ]
        )


def around(middle: float, step: float, smallest: float, largest: float) -> tuple[float, ...]:
    """Eight amounts near one, in steps, within a range; the one itself among them."""
    first = max(middle - BELOW * step, smallest)
    ahead = [first + step * at for at in range(OFFERED)]
    offered = {round(each, 2) for each in ahead if smallest <= each <= largest}
    return tuple(sorted({*offered, round(middle, 2)}))[: OFFERED + 1]


def drop_page(sketch: Sketch, line: PlanLine) -> Message:
    """Whether to take a movement out."""
    speech, name = sketch.speech, line.movement.name
    about = sketch.ids[name]
    return sketch.page(
        speech.text("Take {movement} out of the class?", movement=bold(name)),
        (
            (sketch.key(speech.label("Yes, take it out"), Act.DROP, about),),
            (sketch.show(speech.label("No, keep it"), Stage.LINE, about),),
        ),
        stage=Stage.LINES,
    )


def target_page(sketch: Sketch, line: PlanLine | None) -> Message:
    """How hard it should feel: the class, or one movement of it."""
    speech, draft = sketch.speech, sketch.draft
    now = draft.target if line is None else line.target
    about = "-" if line is None else sketch.ids[line.movement.name]
    text = lines(
        speech.text("How hard should most of the class feel, from 0 to 10?")
        if line is None
        else speech.text("How hard should {movement} feel?", movement=bold(line.movement.name)),
        speech.text(
            "7 is very hard but in control, with room left; it suits most classes. Tap a number, "
            "or type it. The ceiling that nobody is to pass stays at {ceiling}.",
            ceiling=speech.number(draft.ceiling),
        ),
    )
    keys = [
        sketch.choice(speech.number(each), Act.TARGET, f"{about}:{each:g}", now=each == now)
        for each in sorted({*TARGETS, now})
        if each < draft.ceiling
    ]
    back = Step(Stage.LINES) if line is None else Step(Stage.LINE, about)
    return sketch.page(text, in_rows(keys), stage=Stage.TARGET, back=back)
