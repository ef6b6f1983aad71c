"""Inviting people to a group: a link, and a picture of it for the wall."""

from datetime import date

from bot.buttons.setup import InviteButton
from bot.words.message import Key, Message
from bot.words.speech import Html, Speech, bold, lines
from bot.words.trial import trial_key


def invite(speech: Speech, group_id: str, group: str, link: str, until: date) -> Message:
    """A new link."""
    return Message(
        text=lines(
            speech.text("This link lets people join {group}.", group=bold(group)),
            link,
            "",
            speech.text(
                "It works until {day}. The picture that follows is for the wall.",
                day=speech.day(until),
            ),
        ),
        rows=((trial_key(speech, group_id),),),
        personal=False,
    )


def another_link(speech: Speech, invite_id: str, group: str) -> Message:
    """There is a link already, and perhaps it hangs on a wall."""
    return Message(
        text=speech.text(
            "There is a link to {group} that still works. I don't keep links, so I can only make a "
            "new one; then the old one stops working, also as a picture on the wall.",
            group=bold(group),
        ),
        rows=((Key(speech.label("Make a new link"), InviteButton(invite_id)),),),
        personal=False,
    )


def qr_caption(speech: Speech, group: str) -> Html:
    """What the picture of a link is for."""
    return speech.text(
        "To print: whoever scans it with a phone's camera comes to {group}.", group=bold(group)
    )
