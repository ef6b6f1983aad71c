"""A pause: until when, that it holds, and that it is over."""

from datetime import date

from bot.buttons.personal import PauseButton
from bot.words.message import Key, Message, plain
from bot.words.speech import Speech, later, lines

LENGTHS = {
    "7": later("One week"),
    "14": later("Two weeks"),
    "28": later("Four weeks"),
    "open": later("Until I say so"),
}


def until_when(speech: Speech, dialogue: str, running: str | None, until: date | None) -> Message:
    """For how long; `running` is the pause that holds already, if one does, until that day."""
    options = tuple(
        (Key(speech.label(words), PauseButton(dialogue, choice)),)
        for choice, words in LENGTHS.items()
    )
    now = None if running is None else lines(_holds(speech, until), "")
    end = () if running is None else ((_end_key(speech, running),),)
    return Message(
        text=lines(
            now,
            speech.text(
                "For how long should I leave you in peace? I won't ask or remind you. Tap, or "
                "write the day from which I may ask again."
            ),
        ),
        rows=(*end, *options, (Key(speech.label("Never mind"), PauseButton(dialogue, "no")),)),
    )


def paused(speech: Speech, pause: str, until: date | None) -> Message:
    """The pause holds."""
    return Message(
        text=lines(
            _holds(speech, until),
            speech.text("/variant and everything else works all the same. Enjoy your break."),
        ),
        rows=((_end_key(speech, pause),),),
    )


def not_a_day(speech: Speech, example: date) -> Message:
    """What was written isn't a day within the next year."""
    return Message(
        text=speech.text(
            "I couldn't read that as a day of the next twelve months. Please write it like "
            "{example} or {iso}, or tap one of the buttons. /cancel drops it.",
            example=speech.short_day(example),
            iso=example.isoformat(),
        )
    )


def _holds(speech: Speech, until: date | None) -> str:
    if until is None:
        return speech.text("You are on pause until you end it.")
    return speech.text("You are on pause. I'll ask again from {day} on.", day=speech.day(until))


def _end_key(speech: Speech, pause: str) -> Key:
    return Key(speech.label("I'm back, ask me again"), PauseButton(pause, "end"))


NO_PAUSE = plain(later("All right, nothing changes. /pause is there whenever you like."))
NOT_PAUSED = plain(later("You aren't on pause: I'll ask you after the next class."))
BACK = plain(later("Welcome back. I'll ask you after the next class."))
