"""What was understood, and the way to change it."""

from collections.abc import Iterable

from bot.buttons import ShowButton, View
from bot.words.doses import dose_words
from bot.words.message import Key, Message, fitting, short
from bot.words.prompt.occasion import Occasion
from bot.words.safety import PAIN_ADVICE, SORENESS_ADVICE, WARNING_ADVICE
from bot.words.speech import Html, bold, lines
from core.movement import Dose
from core.questions import HURT, Question, course

ADVICE = {"pain": PAIN_ADVICE, "soreness": SORENESS_ADVICE, "warning": WARNING_ADVICE}


def summary_message(occasion: Occasion, changes: Iterable[tuple[str, Dose]] = ()) -> Message:
    """Everything that was said about one class; advice on what hurts stands first.

    `changes` are the doses that are others next time, by movement; /variant shows them too, so they
    are left out where they don't fit.
    """
    speech = occasion.speech
    hurt = occasion.answers.get(str(HURT))
    advice = ADVICE.get(hurt.word or "") if hurt else None
    change = Key(speech.label("Change an answer"), ShowButton(occasion.prompt, View.ANSWERS))
    following = [_next_time(occasion, movement, dose) for movement, dose in changes]
    texts = (
        lines(
            occasion.head,
            "",
            *([] if advice is None else [speech.text(advice), ""]),
            speech.text("Thank you, this is noted:"),
            *(_line(occasion, each) for each in _answered(occasion)),
            *told,
            "",
            speech.text("You can change it until the next class starts."),
        )
        for told in (following, [])
    )
    return Message(text=fitting(texts), rows=((change,),))


def closed_message(occasion: Occasion) -> Message:
    """In place of anything whose buttons came too late: what counts, and what to do now."""
    speech, said = occasion.speech, [_line(occasion, each) for each in _answered(occasion)]
    noted = speech.text("This is noted:") if said else speech.text("You haven't said anything.")
    return Message(
        text=lines(
            occasion.head,
            "",
            noted,
            *said,
            "",
            speech.text(
                "These questions are closed by now, so this stays as it is. /variant shows what to "
                "do next class."
            ),
        )
    )


def _next_time(occasion: Occasion, movement: str, dose: Dose) -> Html:
    line = occasion.plan.line(movement)
    words = dose.variation if line is None else dose_words(occasion.speech, dose, line.movement)
    return occasion.speech.text(
        "Next time, {movement}: {dose}", movement=bold(movement), dose=words
    )


def change_message(occasion: Occasion) -> Message:
    """Which answer do you want to change?"""
    speech = occasion.speech
    done = Key(speech.label("None, it's all right"), ShowButton(occasion.prompt, View.SUMMARY))
    keys = (
        Key(short(_plain(occasion, each)), ShowButton(occasion.prompt, each))
        for each in _answered(occasion)
    )
    return Message(
        text=lines(occasion.head, "", speech.text("Which answer do you want to change?")),
        rows=tuple((key,) for key in (*keys, done)),
    )


def _answered(occasion: Occasion) -> list[Question]:
    return [
        each for each in course(occasion.asked, occasion.answers) if str(each) in occasion.answers
    ]


def _line(occasion: Occasion, question: Question) -> Html:
    return occasion.speech.text("• {answer}", answer=_plain(occasion, question))


def _plain(occasion: Occasion, question: Question) -> str:
    return occasion.speech.label(
        "{question}: {answer}",
        question=occasion.label(question),
        answer=occasion.said(question, occasion.answers[str(question)]),
    )
