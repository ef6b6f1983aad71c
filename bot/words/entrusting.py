"""What somebody reads who is asked to lead a group or a class, and what the others are told."""

from bot.buttons.people import Lead, LeadButton
from bot.words.message import Key, Message, plain
from bot.words.speech import Speech, bold, later, lines
from core.roster import Trust


def entrusted(
    speech: Speech, trust: Trust, *, link: str, group: str, by: str, when: str
) -> Message:
    """What somebody is asked who has opened such a link; `link` is its id."""
    if trust is Trust.SESSION:
        first = speech.text(
            "{name} asks you to stand in for them in {group} on {when}. You get the digest before "
            "that class, and its warning signs. /digest shows it until the class is over.",
            name=bold(by),
            group=bold(group),
            when=when,
        )
    elif trust is Trust.SHARE:
        first = speech.text(
            "{name} asks you to lead {group} together.", name=bold(by), group=bold(group)
        )
    else:
        first = speech.text(
            "{name} wants to hand {group} over to you: you would lead it in their place.",
            name=bold(by),
            group=bold(group),
        )
    return Message(
        text=lines(
            first,
            "",
            speech.text(
                "You would read what the members answer and what hurts them. It is meant for you "
                "alone: please don't pass it on. Your name in this chat and its number are stored; "
                "/mydata shows and erases them."
            ),
        ),
        rows=(
            (Key(speech.label("Yes, I do it"), LeadButton(link, Lead.ACCEPT)),),
            (Key(speech.label("No, thank you"), LeadButton(link, Lead.DECLINE)),),
        ),
        personal=False,
    )


def accepted(speech: Speech, trust: Trust, *, group: str, when: str) -> Message:
    """They said yes."""
    if trust is Trust.SESSION:
        text = speech.text(
            "Thank you! You stand in for {group} on {when}. /digest shows what is planned for "
            "whom, as soon as you like.",
            group=bold(group),
            when=when,
        )
    else:
        text = speech.text(
            "You lead {group} from now on. /digest shows the next class, /people who takes part, "
            "/help everything else.",
            group=bold(group),
        )
    return Message(text=text, personal=False)


def somebody_accepted(speech: Speech, trust: Trust, *, name: str, group: str, when: str) -> Message:
    """The other instructors are told."""
    if trust is Trust.SESSION:
        text = speech.text(
            "{name} stands in for {group} on {when}.", name=bold(name), group=group, when=when
        )
    else:
        text = speech.text("{name} leads {group} from now on.", name=bold(name), group=group)
    return Message(text=text)


def handed_over(speech: Speech, group: str, name: str) -> Message:
    """Told to whoever led it until now."""
    return Message(
        text=speech.text(
            "{name} leads {group} from now on, in your place. Thank you for all you did for them!",
            name=bold(name),
            group=bold(group),
        )
    )


def no_longer_needed(speech: Speech, group: str, when: str) -> Message:
    """Told to a substitute."""
    return Message(
        text=speech.text(
            "You needn't stand in for {group} on {when} any more. Thank you for being ready!",
            group=bold(group),
            when=when,
        ),
        personal=False,
    )


def declined_to_lead(speech: Speech, group: str) -> Message:
    """They would rather not."""
    return Message(
        text=speech.text(
            "All right. Nothing about you was stored for {group}, and the link still works.",
            group=bold(group),
        ),
        personal=False,
    )


def already_leads(speech: Speech, group: str) -> Message:
    """They opened a link to lead what they lead."""
    return Message(text=speech.text("You already lead {group}.", group=bold(group)), personal=False)


def warning_for_substitute(speech: Speech, name: str, group: str) -> Message:
    """A warning sign in a class that somebody stands in for: at once, and without the rest."""
    return Message(
        text=lines(
            speech.text(
                "‼️ {name} ({group}) reported a warning sign.", name=bold(name), group=group
            ),
            speech.text(
                "They were told to stop and to get medical help. Please check on them, and follow "
                "your local emergency rules. The instructors of the group know, too."
            ),
        )
    )


LINK_GONE = plain(later("That link doesn't open anything any more. Please ask for a new one."))
