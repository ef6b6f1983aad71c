"""Claiming the bot, and joining a group after reading what is stored."""

from bot.buttons import JoinButton
from bot.words.message import Key, Message, bold, html
from bot.words.safety import NO_DEVICE, WARNING_SIGNS

STORED = "your name in this chat and its number, your ratings, what you did, and what you say hurts"


def claimed(name: str) -> Message:
    """The first instructor has claimed the bot."""
    return Message(
        text=(
            f"Welcome, {html(name)}. This bot is yours now.\n\n"
            "Send me a plan file (a .toml document) and I'll make a group from it. /help shows "
            "everything else."
        )
    )


def terms(group: str, joining: str) -> Message:
    """What someone agrees to when they join."""
    return Message(
        text=(
            f"You are invited to {bold(group)}.\n\n"
            "After each class I ask how hard it was, from 0 to 10. From that I work out what "
            "suits you next time: easier, harder, or the same.\n\n"
            f"<b>What is stored:</b> {STORED}. It stays on your instructor's computer, apart from "
            "these messages themselves, which the chat service carries. Your instructors see "
            "your answers; other members never do. /privacy tells more.\n\n"
            f"<b>Please note:</b> {NO_DEVICE} If you have a heart condition, are pregnant, are "
            "recovering from an injury or aren't sure, ask a licensed professional before you "
            f"start. Stop and get medical help for: {WARNING_SIGNS}."
        ),
        rows=(
            (Key("I agree, let me join", JoinButton(joining, yes=True)),),
            (Key("No, thank you", JoinButton(joining, yes=False)),),
        ),
    )


def joined(group: str, when: str | None) -> Message:
    """You are in."""
    text = f"You have joined {bold(group)}."
    if when:
        text += f" Next class: {html(when)}. I'll ask you afterwards; it takes ten seconds."
    return Message(
        text=f"{text}\n\n/variant shows what to do next class, /help what else you can do."
    )


def declined(group: str) -> Message:
    """They would rather not."""
    return Message(
        text=f"All right. Nothing about you is stored for {html(group)}. The link still works, "
        "should you change your mind."
    )


def already_member(group: str) -> Message:
    """They used an invite for a group they are in."""
    return Message(text=f"You are already in {bold(group)}. /variant shows what to do next class.")


CODE_REFUSED = Message(
    text="That code doesn't open anything here. Please ask your instructor for a new link.",
    personal=False,
)

STRANGER = Message(
    text="Hello. I only work for people who were invited to a class. Please use the link that "
    "your instructor gave you.",
    personal=False,
)

WELCOME_BACK = Message(
    text="Hello again. /variant shows what to do next class, /help what else you can do.",
    personal=False,
)
