"""Help, privacy, cancel, and what to say to what isn't understood."""

from bot.words.joining import STORED
from bot.words.message import Message, plain
from bot.words.safety import NO_DEVICE
from bot.words.speech import Html, Speech, later, lines
from core.effort import Scale

MEMBER_COMMANDS = {
    "variant": later("what to do next class, and why"),
    "progress": later("how your classes felt, and what you can do now"),
    "scale": later("what the numbers mean, and a short lesson"),
    "hurt": later("something hurts or feels wrong"),
    "pause": later("no questions for a while"),
    "settings": later("scale, language, when I ask you"),
    "help": later("what I can do"),
    "mydata": later("get or erase what is stored about you"),
    "privacy": later("what is stored, and who sees it"),
    "cancel": later("leave a question unanswered"),
}
INSTRUCTOR_COMMANDS = {
    "digest": later("the next class: who does what"),
    "limits": later("when you want to be told of somebody"),
    "plan": later("the next class's plan: see it, change it"),
    "newgroup": later("set up a group"),
    "invite": later("a link for members, and its picture to print"),
    "people": later("who takes part; names, notes, other instructors"),
    "attendance": later("who was there in the last class"),
    "export": later("the group's answers as files"),
    "classes": later("the coming classes: cancel, move, add"),
    "groupchat": later("ask in the class's own group chat, too"),
    **MEMBER_COMMANDS,
}


def help_message(speech: Speech, *, leads: bool) -> Message:
    """What this person can do."""
    commands = INSTRUCTOR_COMMANDS if leads else MEMBER_COMMANDS
    files = speech.text(
        "A plan file (.toml) makes a group or changes its plan, too: just send it to me."
    )
    return Message(
        text=lines(
            *(f"/{command}: {speech.label(what)}" for command, what in commands.items()),
            "",
            *([files, ""] if leads else []),
            how_to_answer(speech),
            "",
            speech.text(NO_DEVICE),
        ),
        personal=False,
    )


def how_to_answer(speech: Speech) -> Html:
    """What to do with the question after class, in the numbers that this person rates with."""
    if speech.scale is Scale.TWENTY:
        return speech.text(
            "After class I ask how hard it was. Tap a number from 6 to 20, or type it: 13 or "
            "13/20. You can change an answer until the next class starts."
        )
    return speech.text(
        "After class I ask how hard it was. Tap a number from 0 to 10, or type it: 7, 7.5, "
        "7/10 or 70 %. You can change an answer until the next class starts."
    )


def privacy_message(speech: Speech) -> Message:
    """What is stored, where, who sees it, and for how long."""
    return Message(
        text=lines(
            speech.text(
                "<b>What is stored:</b> {stored}. Nothing else, and nothing is read from your "
                "phone.",
                stored=speech.text(STORED),
            ),
            speech.text(
                "<b>Where:</b> in one file on your instructor's own computer. The chat service "
                "carries these messages and keeps its own copies of them."
            ),
            speech.text(
                "<b>Who sees it:</b> you, and the instructors of your group. Other members never "
                "do. In a group chat I show no more than how many have answered."
            ),
            speech.text(
                "<b>For how long:</b> what you say about a class for two years, if your "
                "instructors haven't chosen another time; the rest until it is erased. /mydata "
                "sends you everything that is stored about you, and erases it when you say so, "
                "also from backups that are put back."
            ),
        ),
        personal=False,
    )


CANCELLED = plain(later("All right, I leave that question open. You can answer it later."))
DROPPED = plain(later("All right, I've dropped that question. What was noted before stays."))
NOTHING_TO_CANCEL = plain(later("There is nothing to cancel."))
NOT_A_RATING = plain(
    later(
        "I couldn't read that as a rating, so nothing was stored. Please tap a number from 0 to "
        "10, or type it like this: 7, 7.5, 7/10 or 70 %. Several at once go like this: 8, side "
        "plank 9."
    )
)
NOT_A_RATING_6_20 = plain(
    later(
        "I couldn't read that as a rating, so nothing was stored. Please tap a number from 6 to "
        "20, or type it like this: 13 or 13/20. /settings changes the scale."
    )
)
NOT_AN_AMOUNT = plain(
    later(
        "I couldn't read that as a number, so nothing was stored. Please tap a button, or type "
        "just the number."
    )
)
NOT_PART_OF_IT = plain(
    later(
        "I expected a number below what you were to do, so nothing was stored. Please tap a "
        "button, or type just the number."
    )
)
USE_THE_BUTTONS = plain(
    later("Please answer this question with one of its buttons. Nothing was stored.")
)
NOTHING_ASKED = plain(
    later("There is no open question just now, so nothing was stored. /help shows what I can do.")
)
CLOSED = plain(
    later(
        "The next class has already started, so that answer can't be changed any more. Nothing "
        "was stored. /variant shows what to do next class."
    )
)
UNKNOWN_COMMAND = plain(later("I don't know that command. /help shows what I can do."))
