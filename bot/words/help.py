"""Help, privacy, cancel, and what to say to what isn't understood."""

from bot.words.joining import STORED
from bot.words.message import Message
from bot.words.safety import NO_DEVICE

MEMBER_COMMANDS = (
    ("variant", "what to do next class, and why"),
    ("help", "what I can do"),
    ("privacy", "what is stored, and who sees it"),
    ("cancel", "leave a question unanswered"),
)
INSTRUCTOR_COMMANDS = (
    ("digest", "the next class: who does what"),
    ("invite", "a new link for members"),
    *MEMBER_COMMANDS,
)


def help_message(*, leads: bool) -> Message:
    """What this person can do."""
    commands = INSTRUCTOR_COMMANDS if leads else MEMBER_COMMANDS
    lines = [f"/{command}: {what}" for command, what in commands]
    if leads:
        lines += ["", "Send me a plan file (.toml) to make a group or to change its plan."]
    lines += [
        "",
        "After class I ask how hard it was. Tap a number from 0 to 10, or type it: 7, 7.5, 7/10 "
        "or 70 %. You can change an answer until the next class starts.",
        "",
        NO_DEVICE,
    ]
    return Message(text="\n".join(lines), personal=False)


PRIVACY = Message(
    text=(
        f"<b>What is stored:</b> {STORED}. Nothing else, and nothing is read from your phone.\n"
        "<b>Where:</b> in one file on your instructor's own computer. The chat service carries "
        "these messages and keeps its own copies of them.\n"
        "<b>Who sees it:</b> you, and the instructors of your group. Other members never do.\n"
        "<b>For how long:</b> until you or your instructor have it erased. Ask your instructor."
    ),
    personal=False,
)

CANCELLED = Message(text="All right, I leave that question open. You can answer it later.")
NOTHING_TO_CANCEL = Message(text="There is nothing to cancel.", personal=False)

NOT_A_RATING = Message(
    text=(
        "I couldn't read that as a rating, so nothing was stored. Please tap a number from 0 to "
        "10, or type it like this: 7, 7.5, 7/10 or 70 %."
    ),
    personal=False,
)
NOT_AN_AMOUNT = Message(
    text="I couldn't read that as a number, so nothing was stored. Please tap a button, or type "
    "just the number.",
    personal=False,
)
USE_THE_BUTTONS = Message(
    text="Please answer this question with one of its buttons. Nothing was stored.",
    personal=False,
)
NOTHING_ASKED = Message(
    text="There is no open question just now, so nothing was stored. /help shows what I can do.",
    personal=False,
)
CLOSED = Message(
    text="The next class has already started, so that answer can't be changed any more. Nothing "
    "was stored.",
    personal=False,
)
UNKNOWN_COMMAND = Message(
    text="I don't know that command. /help shows what I can do.", personal=False
)
