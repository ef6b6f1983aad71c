"""Somebody invited by name: a link for them alone, until they come or it is taken back."""

from bot.buttons.people import Lead, LeadButton, RosterButton
from bot.words.message import Key, Message
from bot.words.speech import Speech, bold, lines


def ask_newcomer(speech: Speech, group_id: str, group: str) -> Message:
    """Whom is the link for?"""
    back = Key(speech.label("◂ Back"), RosterButton(group_id))
    return Message(
        text=speech.text(
            "Whom do you invite to {group}? Write their name as you call them, and I make a link "
            "for them alone. The name is forgotten if they don't come.",
            group=bold(group),
        ),
        rows=((back,),),
        personal=False,
    )


def newcomer_link(speech: Speech, name: str, group: str, link: str, until: str) -> Message:
    """To be passed on to whom it is for."""
    return Message(
        text=lines(
            speech.text(
                "Pass this link on to {name}. It lets one person join {group}, until {until}.",
                name=bold(name),
                group=group,
                until=until,
            ),
            link,
        ),
        personal=False,
    )


def invited_card(
    speech: Speech, group_id: str, group: str, invite: str, name: str, day: str
) -> Message:
    """Somebody who hasn't used their link yet."""
    take_back = LeadButton(group_id, Lead.UNINVITE, invite)
    return Message(
        text=speech.text(
            "{name} was invited to {group} on {day} and isn't here yet.",
            name=bold(name),
            group=group,
            day=day,
        ),
        rows=(
            (Key(speech.label("Take the invitation back"), take_back),),
            (Key(speech.label("◂ Everyone"), RosterButton(group_id)),),
        ),
    )
