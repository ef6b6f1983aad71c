"""Claiming the bot, and joining a group after reading what is stored."""

from bot.buttons import JoinButton
from bot.words.estimates import estimate_key
from bot.words.message import Key, Message, plain
from bot.words.safety import NO_DEVICE, WARNING_SIGNS
from bot.words.speech import Speech, bold, later, lines

STORED = later(
    "your name in this chat and its number, your ratings, what you did, what you say hurts, what "
    "you choose in the settings, and what your instructors note about you: whether you were there, "
    "and a few words"
)


def claimed(speech: Speech, name: str) -> Message:
    """The first instructor has claimed the bot."""
    return Message(
        text=lines(
            speech.text("Welcome, {name}. This bot is yours now.", name=name),
            "",
            speech.text(
                "/newgroup sets up your group, step by step, in about five minutes. If you have a "
                "plan file (it ends in .toml), just send it to me. /help shows everything else."
            ),
        )
    )


def terms(speech: Speech, group: str, joining: str) -> Message:
    """What someone agrees to when they join."""
    return Message(
        text=lines(
            speech.text("You are invited to {group}.", group=bold(group)),
            "",
            speech.text(
                "After each class I ask how hard it was, from 0 to 10. From that I work out what "
                "suits you next time: easier, harder, or the same."
            ),
            "",
            speech.text(
                "<b>What is stored:</b> {stored}. It stays on your instructor's computer; the "
                "chat service carries these messages. Your instructors see your answers, other "
                "members never do. /privacy tells more; /mydata sends you all of it, and erases "
                "it whenever you like.",
                stored=speech.text(STORED),
            ),
            "",
            speech.text("<b>Please note:</b> {caution}", caution=speech.text(NO_DEVICE)),
            speech.text(
                "If you have a heart condition, are pregnant, are recovering from an injury or "
                "aren't sure, ask a licensed professional before you start."
            ),
            speech.text(
                "Stop and get medical help for: {signs}.", signs=speech.text(WARNING_SIGNS)
            ),
        ),
        rows=(
            (Key(speech.label("I agree, let me join"), JoinButton(joining, yes=True)),),
            (Key(speech.label("No, thank you"), JoinButton(joining, yes=False)),),
        ),
    )


def joined(speech: Speech, group_id: str, group: str, when: str | None) -> Message:
    """You are in; whoever wants can say where they stand, so that the first class fits better."""
    first = speech.text("You have joined {group}.", group=bold(group))
    following = (
        None
        if when is None
        else speech.text(
            "Next class: {when}. I'll ask you afterwards; it takes ten seconds.", when=when
        )
    )
    more = speech.text("/variant shows what to do next class, /help what else you can do.")
    stand = speech.text(
        "If you like, tell me roughly what you can do already, so that the first class fits you."
    )
    return Message(
        text=lines(first, following, "", stand, more),
        rows=((estimate_key(speech, group_id),),),
    )


def declined(speech: Speech, group: str) -> Message:
    """They would rather not."""
    return Message(
        text=speech.text(
            "All right. Nothing about you is stored for {group}. The link still works, should you "
            "change your mind.",
            group=bold(group),
        )
    )


def already_member(speech: Speech, group: str) -> Message:
    """They used an invite for a group they are in."""
    return Message(
        text=speech.text(
            "You are already in {group}. /variant shows what to do next class.", group=bold(group)
        )
    )


CODE_REFUSED = plain(
    later("That code doesn't open anything here. Please ask your instructor for a new link.")
)
NOT_JOINED = plain(
    later("You haven't joined with this invitation. To join, please follow the link once more.")
)
STRANGER = plain(
    later(
        "Hello. I only work for people who were invited to a class. Please use the link that "
        "your instructor gave you."
    )
)
WELCOME_BACK = plain(
    later("Hello again. /variant shows what to do next class, /help what else you can do.")
)
