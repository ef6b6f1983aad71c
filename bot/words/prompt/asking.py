"""One question with its buttons."""

from collections.abc import Sequence

from bot.buttons import AnswerButton, ShowButton, View
from bot.words.doses import dose_words
from bot.words.message import Key, Message, short
from bot.words.prompt.occasion import Occasion
from bot.words.safety import WARNING_SIGNS
from bot.words.scale import heart_rate_line, scale_line
from bot.words.speech import Html, bold, later, lines, small
from core.effort import Scale
from core.questions import (
    ABSENT,
    FINE,
    GENERAL,
    SKIPPED,
    UNFINISHED,
    Question,
    Topic,
    previous_question,
)

REMINDER = later("In case you missed it: one tap is enough.")
AGAIN = later(
    "I was out of reach for a while. If you tapped and nothing happened, please tap again."
)
RESERVE_SECONDS = (0, 5, 10, 15, 20, 30, 45, 60)
RESERVE_REPETITIONS = (0, 1, 2, 3, 4, 5, 6, 8)
MOST_STEPS_BACK = 8
"""How many amounts are offered to whoever stopped early."""
KEYS_IN_A_ROW = 4

Rows = tuple[tuple[Key, ...], ...]


def question_message(occasion: Occasion, question: Question, *, note: str | None = None) -> Message:
    """One question; `note` is a sentence above it, such as on a reminder."""
    speech = occasion.speech
    held = occasion.answers.get(str(question))
    so_far = None if held is None else occasion.said(question, held)
    return Message(
        text=lines(
            occasion.head,
            None if note is None else speech.text(note),
            "",
            _text(occasion, question),
            None if so_far is None else "",
            None if so_far is None else speech.text("So far: {answer}", answer=so_far),
        ),
        rows=(*_answers(occasion, question), _ways(occasion, question)),
    )


def _text(occasion: Occasion, question: Question) -> Html:
    speech = occasion.speech
    match question.topic:
        case Topic.SESSION:
            return lines(
                speech.text("How hard was the whole class for you?"),
                _scale_words(occasion),
            )
        case Topic.EFFORT:
            return lines(
                _progress(occasion, question),
                _dose(occasion, question),
                speech.text("How hard was it?"),
                _scale_words(occasion),
            )
        case Topic.VARIATION:
            return lines(_progress(occasion, question), speech.text("Which variation did you do?"))
        case Topic.AMOUNT:
            return lines(_progress(occasion, question), speech.text("How much of it, in one set?"))
        case Topic.LOAD:
            return lines(_progress(occasion, question), speech.text("With how many kilograms?"))
        case Topic.COMPLETED:
            return lines(
                _progress(occasion, question),
                speech.text("How far did you get, in the last set?"),
            )
        case Topic.RESERVE if occasion.is_hold(question):
            return lines(
                _progress(occasion, question),
                speech.text("How many more seconds would have been possible?"),
            )
        case Topic.RESERVE:
            return lines(
                _progress(occasion, question),
                speech.text("How many more repetitions would have been possible?"),
            )
        case Topic.HURT:
            return lines(
                speech.text("Did anything hurt or feel wrong?"),
                small(speech.text("Warning signs: {signs}.", signs=speech.text(WARNING_SIGNS))),
            )
        case Topic.WHERE:
            return speech.text("During which movement?")


def _scale_words(occasion: Occasion) -> Html | None:
    """What the numbers mean, for newcomers; heart rates for whoever wants to read them."""
    speech = occasion.speech
    if occasion.newcomer:
        return scale_line(speech)
    return small(heart_rate_line(speech)) if speech.heart_rate else None


def _progress(occasion: Occasion, question: Question) -> Html:
    return occasion.speech.text(
        "{movement} ({place} of {all})",
        movement=bold(occasion.about(question).movement),
        place=(question.place or 0) + 1,
        all=len(occasion.asked),
    )


def _dose(occasion: Occasion, question: Question) -> str:
    dose, movement = occasion.dose(question), occasion.movement(question)
    return dose.variation if movement is None else dose_words(occasion.speech, dose, movement)


def _answers(occasion: Occasion, question: Question) -> Rows:
    label = occasion.speech.label
    match question.topic:
        case Topic.SESSION:
            absent = _word(occasion, question, ABSENT, label("I wasn't there"))
            return (*_scale(occasion, question), (absent,))
        case Topic.EFFORT:
            stopped = _word(occasion, question, UNFINISHED, label("I stopped early"))
            what_else = Question(Topic.VARIATION, question.place)
            other = Key(label("I did something else"), ShowButton(occasion.prompt, what_else))
            return (*_scale(occasion, question), (stopped, other))
        case Topic.VARIATION:
            ladder = occasion.about(question).ladder
            return tuple(
                (_number(occasion, question, at, short(each)),) for at, each in enumerate(ladder)
            )
        case Topic.AMOUNT | Topic.LOAD:
            return _in_rows(
                [_number(occasion, question, each) for each in nearby(occasion, question)]
            )
        case Topic.COMPLETED:
            return _in_rows(
                [_number(occasion, question, each) for each in steps_back(occasion, question)]
            )
        case Topic.RESERVE:
            values = RESERVE_SECONDS if occasion.is_hold(question) else RESERVE_REPETITIONS
            keys = [_number(occasion, question, each) for each in values[:-1]]
            most = label("{number} or more", number=values[-1])
            return _in_rows([*keys, _number(occasion, question, values[-1], most)])
        case Topic.HURT:
            return (
                (_word(occasion, question, FINE, label("No, all fine")),),
                (_word(occasion, question, "soreness", label("Sore muscles")),),
                (_word(occasion, question, "pain", label("Joint or sharp pain")),),
                (_word(occasion, question, "warning", label("A warning sign")),),
            )
        case Topic.WHERE:
            names = [line.movement.name for line in occasion.plan.lines]
            keys = [_number(occasion, question, at, short(each)) for at, each in enumerate(names)]
            none = _word(occasion, question, GENERAL, label("Not one of them"))
            return tuple((key,) for key in (*keys, none))


def _ways(occasion: Occasion, question: Question) -> tuple[Key, ...]:
    """Back to the question before, past this one, and to what the numbers mean."""
    label = occasion.speech.label
    skip = _word(occasion, question, SKIPPED, label("Skip"))
    before = previous_question(occasion.asked, occasion.answers, question)
    back = [] if before is None else [Key(label("Back"), ShowButton(occasion.prompt, before))]
    rated = question.topic in (Topic.SESSION, Topic.EFFORT) and not occasion.newcomer
    scale = [Key(label("The scale"), ShowButton(occasion.prompt, View.SCALE))] if rated else []
    return (*back, skip, *scale)


def steps_back(occasion: Occasion, question: Question) -> tuple[float, ...]:
    """Amounts below the dose that someone may have got to, in the movement's own steps."""
    movement = occasion.movement(question)
    step = movement.step if movement else 1.0
    most = int((occasion.dose(question).amount - 1e-9) // step)
    every = max(1, -(-most // MOST_STEPS_BACK))
    return tuple(step * place for place in range(most, 0, -every))[::-1]


def nearby(occasion: Occasion, question: Question) -> tuple[float, ...]:
    """Amounts or loads around what they were told, in the movement's own steps."""
    told, movement = occasion.about(question).dose, occasion.movement(question)
    if question.topic is Topic.LOAD:
        step, middle = (movement.load_step if movement else None) or 1.0, told.load or 0.0
    else:
        step, middle = movement.step if movement else 1.0, told.amount
    below = min(KEYS_IN_A_ROW, int((middle - 1e-9) // step))
    return tuple(middle + step * place for place in range(-below, 2 * KEYS_IN_A_ROW - below))


def _scale(occasion: Occasion, question: Question) -> Rows:
    if occasion.speech.scale is Scale.TWENTY:
        ratings = [AnswerButton.twenty(occasion.prompt, question, at) for at in range(6, 21)]
        theirs = [Key(occasion.speech.number(each.on_6_20 or 0), each) for each in ratings]
        return (tuple(theirs[:5]), tuple(theirs[5:10]), tuple(theirs[10:]))
    keys = [_number(occasion, question, value) for value in range(11)]
    return (tuple(keys[:6]), tuple(keys[6:]))


def _number(occasion: Occasion, question: Question, value: float, label: str | None = None) -> Key:
    button = AnswerButton(occasion.prompt, question, number=value)
    return Key(label or occasion.speech.number(value), button)


def _word(occasion: Occasion, question: Question, value: str, label: str) -> Key:
    return Key(label, AnswerButton(occasion.prompt, question, word=value))


def _in_rows(keys: Sequence[Key]) -> Rows:
    starts = range(0, len(keys), KEYS_IN_A_ROW)
    return tuple(tuple(keys[start : start + KEYS_IN_A_ROW]) for start in starts)
