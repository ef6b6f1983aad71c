"""Pain is over: both the member and the instructor are asked, one question each."""

from bot.buttons import ClearButton, WellAgainButton
from bot.words.message import Key, Message, bold, html


def is_it_fine(symptom: str, movement: str | None) -> Message:
    """The member is asked, after their instructor has cleared it."""
    what = html(movement) if movement else "What you reported"
    return Message(
        text=f"{what}: your instructor thinks it may get harder again. Is it fine for you?",
        rows=((Key("Yes, it's fine again", WellAgainButton(symptom)),),),
    )


def member_is_well(symptom: str, name: str, movement: str | None) -> Message:
    """The instructor is asked, after the member has said so."""
    what = html(movement) if movement else "what they reported"
    return Message(
        text=f"{bold(name)} says that {what} is fine again. May it get harder?",
        rows=((Key("Cleared: may get harder again", ClearButton(symptom)),),),
    )


STILL_HELD = Message(
    text="Noted, I'm glad. Nothing gets harder until your instructor has cleared it too."
)
RELEASED = Message(text="Noted, I'm glad. Your instructor has cleared it too.")
