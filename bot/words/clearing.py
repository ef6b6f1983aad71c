"""Pain is over: both the member and the instructor are asked, one question each."""

from bot.buttons import ClearButton, WellAgainButton
from bot.words.message import Key, Message, plain, short
from bot.words.speech import Speech, bold, later


def is_it_fine(speech: Speech, symptom: str, movement: str | None) -> Message:
    """The member is asked, after their instructor has cleared it."""
    if movement is None:
        text = speech.text(
            "Your instructor thinks that things may get harder again. Is what you reported gone? "
            "If not, just leave this be."
        )
    else:
        text = speech.text(
            "Your instructor thinks that {movement} may get harder again. Does it feel fine again? "
            "If not, just leave this be.",
            movement=bold(movement),
        )
    yes = Key(speech.label("Yes, it's fine again"), WellAgainButton(symptom))
    return Message(text=text, rows=((yes,),))


def member_is_well(speech: Speech, symptom: str, name: str, movement: str | None) -> Message:
    """The instructor is asked, after the member has said so."""
    if movement is None:
        text = speech.text(
            "{name} says that what they reported is gone. May things get harder again?",
            name=bold(name),
        )
    else:
        text = speech.text(
            "{name} says that {movement} is fine again. May it get harder?",
            name=bold(name),
            movement=movement,
        )
    return Message(text=text, rows=((clear_key(speech, symptom),),))


def well_again_key(speech: Speech, symptom: str, movement: str | None) -> Key:
    """The member's half of clearing a symptom."""
    if movement is None:
        return Key(speech.label("It's fine again"), WellAgainButton(symptom))
    label = short(speech.label("{movement}: it's fine again", movement=movement))
    return Key(label, WellAgainButton(symptom))


def clear_key(speech: Speech, symptom: str) -> Key:
    """The instructor's half of clearing a symptom."""
    return Key(speech.label("Cleared: may get harder again"), ClearButton(symptom))


STILL_HELD = plain(
    later("Noted, I'm glad. Nothing gets harder until your instructor has cleared it too.")
)
RELEASED = plain(
    later("Noted, I'm glad. Your instructor has cleared it too, so it may get harder again.")
)


def cleared_by_both(speech: Speech, movement: str | None) -> Message:
    """The member is told that their instructor agrees."""
    if movement is None:
        return Message(
            text=speech.text(
                "Your instructor has cleared what you reported too, so things may get harder again."
            )
        )
    return Message(
        text=speech.text(
            "Your instructor has cleared {movement} too, so it may get harder again.",
            movement=bold(movement),
        )
    )
