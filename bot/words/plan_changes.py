"""Questions before a plan changes: what would be different, and from when on."""

from bot.buttons.instructor import ReplaceButton
from bot.buttons.setup import Act, Stage, Step
from bot.planfile import Difference
from bot.words.message import Key, Message
from bot.words.plans import difference_words
from bot.words.setup import Sketch
from bot.words.speech import Html, Speech, bold, lines


def change_page(sketch: Sketch, found: Difference, when: str | None) -> Message:
    """What a changed plan would make different; `when` is the next class, if there is one."""
    speech, label = sketch.speech, sketch.speech.label
    back = Step(Stage.LINES)
    if found.is_nothing:
        nothing = speech.text("Nothing is different yet.")
        return sketch.page(nothing, (), stage=Stage.PREVIEW, back=back)
    keys = [
        *([sketch.key(_only(speech, when), Act.ONCE)] if when else []),
        sketch.key(label("From now on"), Act.ALWAYS),
    ]
    text = lines(
        speech.text("This would change:"),
        difference_words(speech, found),
        "",
        speech.text("For which classes?"),
    )
    return sketch.page(text, ((key,) for key in keys), stage=Stage.PREVIEW, back=back)


def replace_question(
    speech: Speech, group: str, found: Difference, when: str | None, upload: str
) -> Message:
    """What a file would change in a group that there is already."""
    for_one = found.about_class and when is not None
    keys = [
        *([Key(_only(speech, when or ""), ReplaceButton(upload, True, True))] if for_one else []),
        Key(speech.label("From now on"), ReplaceButton(upload, yes=True)),
        Key(speech.label("Leave it as it is"), ReplaceButton(upload, yes=False)),
    ]
    stays = speech.text("For one class alone only its movements and efforts can change.")
    head = speech.text("You already lead {group}. This file would change:", group=bold(group))
    tail = speech.text("For which classes? What was said so far stays.")
    note = stays if for_one and found.about_group else None
    return Message(
        text=lines(head, difference_words(speech, found), "", note, tail),
        rows=tuple((key,) for key in keys),
        personal=False,
    )


def _only(speech: Speech, when: str) -> str:
    return speech.label("Only the next class: {when}", when=when)


def changed_meanwhile(speech: Speech) -> Html:
    """Why a question comes a second time."""
    return speech.text(
        "The plan or the next class has changed in the meantime, so please look again. Nothing "
        "was changed yet."
    )
