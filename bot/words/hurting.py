"""Reporting at any time what hurts or feels wrong, and what to do about it."""

from collections.abc import Iterable, Mapping

from bot.buttons.personal import HurtButton
from bot.words.clearing import well_again_key
from bot.words.message import Key, Message, plain, short
from bot.words.prompt.occasion import ANSWERS
from bot.words.safety import PAIN_ADVICE, SORENESS_ADVICE, WARNING_ADVICE, WARNING_SIGNS
from bot.words.speech import Speech, later, lines, small
from core.reports import SymptomKind

NOWHERE = "-"
"""What a button carries for none of the movements."""
KINDS: Mapping[SymptomKind, str] = {
    SymptomKind.SORENESS: later("Sore muscles"),
    SymptomKind.PAIN: later("Joint or sharp pain"),
    SymptomKind.WARNING: later("A warning sign"),
}
ADVICE: Mapping[SymptomKind, str] = {
    SymptomKind.SORENESS: SORENESS_ADVICE,
    SymptomKind.PAIN: PAIN_ADVICE,
    SymptomKind.WARNING: WARNING_ADVICE,
}


def what_is_it(
    speech: Speech, dialogue: str, held: Iterable[tuple[str, str | None]] = ()
) -> Message:
    """The first question; `held` are the symptoms that they may say are gone, by id."""
    return Message(
        text=lines(
            speech.text("What hurts or feels wrong?"),
            small(speech.text("Warning signs: {signs}.", signs=speech.text(WARNING_SIGNS))),
        ),
        rows=(
            *((Key(speech.label(KINDS[each]), HurtButton(dialogue, each)),) for each in KINDS),
            *((well_again_key(speech, *each),) for each in held),
        ),
    )


def which_group(speech: Speech, button: HurtButton, groups: Iterable[tuple[str, str]]) -> Message:
    """For whoever is in several groups, by id and name."""
    keys = (
        Key(short(name), HurtButton(button.id, button.symptom, group)) for group, name in groups
    )
    return Message(
        text=speech.text("In which group did it happen? If in none, where does it matter most?"),
        rows=(*((key,) for key in keys), (_back(speech, button),)),
    )


def where(
    speech: Speech, button: HurtButton, group: str, movements: Iterable[tuple[str, str]]
) -> Message:
    """During which movement, by the id of its name; what was said so far is noted already."""
    keys = (
        Key(short(name), HurtButton(button.id, button.symptom, group, movement))
        for movement, name in movements
    )
    other = Key(
        speech.label("Not one of them"), HurtButton(button.id, button.symptom, group, NOWHERE)
    )
    return Message(
        text=lines(
            speech.text("This is noted. Is it about one of these movements?"),
        ),
        rows=(*((key,) for key in keys), (other,), (_back(speech, button),)),
    )


def noted(
    speech: Speech, kind: SymptomKind, movement: str | None, symptoms: Iterable[str]
) -> Message:
    """What to do about it; `symptoms` are what it is stored as, one for each group."""
    frozen = kind is not SymptomKind.SORENESS
    what = speech.label(ANSWERS[kind])
    return Message(
        text=lines(
            speech.text(ADVICE[kind]),
            "",
            speech.text("Noted: {what}.", what=what)
            if movement is None
            else speech.text("Noted: {what}, {movement}.", what=what, movement=movement),
            speech.text("/hurt reports something else."),
        ),
        rows=tuple((well_again_key(speech, each, movement),) for each in symptoms if frozen),
    )


def _back(speech: Speech, button: HurtButton) -> Key:
    return Key(speech.label("Back"), HurtButton(button.id))


NOT_HERE = plain(
    later(
        "I can only note this for people in a group. If it is serious, get medical help: call your "
        "local emergency number."
    )
)
