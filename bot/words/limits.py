"""The numbers of a group, each explained where it is changed."""

from collections.abc import Mapping

from bot.buttons import ThresholdButton
from bot.words.message import Key, Message
from bot.words.speech import Html, Speech, bold, later, lines, small
from core.rules import MAXIMAL_OF_CLASSES
from core.thresholds import CHOICES, DEFAULTS, Threshold, Thresholds

NAMES: Mapping[Threshold, str] = {
    Threshold.MAXIMAL: later("Keeps going to the maximum: {value}"),
    Threshold.FIRST: later("First class at the maximum: {value}"),
    Threshold.ABOVE: later("Harder than planned: {value}"),
    Threshold.BELOW: later("Easier than planned: {value}"),
    Threshold.QUIET: later("No answer: {value}"),
    Threshold.BREAK: later("Back after a break: {value}"),
    Threshold.LOAD: later("Another week than usual: {value}"),
    Threshold.KEPT: later("Answers are kept: {value}"),
}
WHY: Mapping[Threshold, str] = {
    Threshold.MAXIMAL: later(
        "How many of the last {classes} classes that somebody answered about may be maximal before "
        "you are told at once. A class is maximal if it, or a movement in it, was rated 9.5 or "
        "more, or wasn't finished, or nothing was left. The same number of times in a row counts "
        "for one movement. No standard sets such a limit."
    ),
    Threshold.FIRST: later(
        "Whether you are told, with the next digest, of somebody whose first class was at the "
        "maximum. Many newcomers think that all-out is the aim."
    ),
    Threshold.ABOVE: later(
        "How many classes in a row somebody may rate above the range, more than a point over the "
        "target, before the digest says so. Their suggestions get easier anyway."
    ),
    Threshold.BELOW: later(
        "How many classes in a row somebody may rate below the range, more than a point under the "
        "target, before the digest says so: they are hardly challenged."
    ),
    Threshold.QUIET: later(
        "About how many classes in a row somebody may say nothing before the digest says so."
    ),
    Threshold.BREAK: later(
        "After how many days away the digest says that somebody is back. After two weeks their "
        "first class starts easier whatever you choose here."
    ),
    Threshold.LOAD: later(
        "By how much the load of a week, ratings times minutes, must differ from the weeks before "
        "for the digest to say so. It is a plain fact: as a sign of risk it is much disputed."
    ),
    Threshold.KEPT: later(
        "How long I keep what was said about a class. Older answers, notes and settled reports of "
        "pain go for good, except for each member's last class. Nothing goes within a week of your "
        "choice, so that you can change your mind."
    ),
}
UNTOUCHABLE = later(
    "Pain and warning signs always come at once, and once more after 30 minutes if nobody has "
    "marked them as seen."
)


def limits_message(speech: Speech, group_id: str, group: str, now: Thresholds) -> Message:
    """All numbers of a group, each a button to its page."""
    keys = (
        Key(
            speech.label(NAMES[each], value=value_words(speech, each, now.of(each))),
            ThresholdButton(group_id, each),
        )
        for each in Threshold
    )
    return Message(
        text=lines(
            bold(group),
            speech.text(
                "This is when you are told of something, and for how long answers are kept. "
                "Tap one to change it."
            ),
            small(speech.text(UNTOUCHABLE)),
        ),
        rows=tuple((key,) for key in keys),
        personal=False,
    )


def limit_page(
    speech: Speech, group_id: str, group: str, threshold: Threshold, now: Thresholds
) -> Message:
    """One number: what it means, what it is, and what it may be."""
    holds = now.of(threshold)

    def key(value: int) -> Key:
        label = value_words(speech, threshold, value)
        ticked = f"✓ {label}" if value == holds else label
        return Key(ticked, ThresholdButton(group_id, threshold, value))

    usual = value_words(speech, threshold, DEFAULTS[threshold])
    return Message(
        text=lines(
            bold(group),
            _why(speech, threshold),
            small(speech.text("Usually: {value}.", value=usual)),
        ),
        rows=(
            *((key(value),) for value in CHOICES[threshold]),
            (Key(speech.label("Back"), ThresholdButton(group_id)),),
        ),
        personal=False,
    )


def _why(speech: Speech, threshold: Threshold) -> Html:
    return speech.text(WHY[threshold], classes=MAXIMAL_OF_CLASSES)


def value_words(speech: Speech, threshold: Threshold, value: int) -> str:
    """A number with what it counts; plain text."""
    if value == 0:
        return speech.label("never")
    match threshold:
        case Threshold.FIRST:
            return speech.label("told")
        case Threshold.MAXIMAL:
            return speech.label("{value} of {classes}", value=value, classes=MAXIMAL_OF_CLASSES)
        case Threshold.BREAK:
            return speech.labels("{count} day", "{count} days", value)
        case Threshold.KEPT:
            return speech.labels("{count} month", "{count} months", value)
        case Threshold.LOAD:
            return speech.label("{value} % or more", value=value)
        case Threshold.ABOVE | Threshold.BELOW | Threshold.QUIET:
            return speech.label("{value} in a row", value=value)
