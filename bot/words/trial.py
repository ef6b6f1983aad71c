"""The question after class, tried out by an instructor."""

from bot.buttons import AnswerButton, ShowButton, TrialButton
from bot.words.message import Key, Link, Message
from bot.words.prompt import Occasion, question_message
from bot.words.speech import Speech, later
from core.questions import Question

TRIAL = later("A trial: this is what members see after class. Nothing you tap here is stored.")
Said = tuple[tuple[Question, str], ...]


def trial_question(occasion: Occasion, group_id: str, said: Said, question: Question) -> Message:
    """One question as members get it; its buttons carry what was said, and store nothing."""
    asked = question_message(occasion, question, note=TRIAL)
    rows = (tuple(_tried(key, group_id, said) for key in row) for row in asked.rows)
    kept = (tuple(key for key in row if key is not None) for row in rows)
    return Message(text=asked.text, rows=tuple(row for row in kept if row), personal=False)


def _tried(key: Key | Link, group_id: str, said: Said) -> Key | None:
    """The same button without effect; None for one that would look at what is stored."""
    if isinstance(key, Link):
        return None
    match key.button:
        case AnswerButton() as answer:
            value = answer.write().rpartition(":")[2]
            button = TrialButton(group_id, (*said, (answer.question, value)))
        case ShowButton(view=Question() as back) if back in (names := [each for each, _ in said]):
            button = TrialButton(group_id, said[: names.index(back)])
        case _:
            return None
    return Key(key.label, button)


def trial_over(speech: Speech, group_id: str) -> Message:
    """All was tried."""
    return Message(
        text=speech.text(
            "That was all. Members then read what I understood, and what changes next time. "
            "Nothing of this trial was stored."
        ),
        rows=((Key(speech.label("Try it once more"), TrialButton(group_id, anew=True)),),),
        personal=False,
    )


def trial_key(speech: Speech, group_id: str) -> Key:
    """The button that begins a trial."""
    return Key(speech.label("Try the question that members get"), TrialButton(group_id, anew=True))
