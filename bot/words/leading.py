"""Who leads a group, who stands in, and the links by which somebody may."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from bot.buttons.people import Lead, LeadButton, RosterButton
from bot.words.message import Key, Message, short
from bot.words.speech import Speech, bold, later, lines
from bot.words.toasts import Toast
from core.roster import Trust

MOST_SHOWN = 8
"""Links and substitutes with a button each; more are rare, and come up once these are gone."""
OPEN_LINK: Mapping[Trust, str] = {
    Trust.SHARE: later("A link to lead the group as well, until {until}"),
    Trust.HANDOVER: later("A link to take the group over, until {until}"),
    Trust.SESSION: later("A link for a substitute on {when}, until {until}"),
}
TAKE_BACK: Mapping[Trust, str] = {
    Trust.SHARE: later("Take back the link to lead as well"),
    Trust.HANDOVER: later("Take back the link to take over"),
    Trust.SESSION: later("Take back the link for {when}"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenLink:
    """A link that somebody may still use."""

    id: str
    trust: Trust
    until: str
    when: str
    """The class, for a substitute; else empty."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StandIn:
    """Somebody who stands in for a class."""

    id: str
    name: str
    when: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Leading:
    """Who leads a group, and who may."""

    group_id: str
    group: str
    instructors: tuple[str, ...]
    links: tuple[OpenLink, ...]
    stand_ins: tuple[StandIn, ...]

    def key(self, label: str, lead: Lead, about: str | None = None) -> Key:
        """A button that does something about it."""
        return Key(label, LeadButton(self.group_id, lead, about))


def leading_message(speech: Speech, facts: Leading) -> Message:
    """Who leads, and what can be done about it."""
    links, stand_ins = facts.links[:MOST_SHOWN], facts.stand_ins[:MOST_SHOWN]
    shown = [short(each, 60) for each in facts.instructors]
    return Message(
        text=lines(
            speech.text(
                "{group} is led by {names}.", group=bold(facts.group), names=speech.listed(shown)
            ),
            *(
                speech.text("• {name} stands in on {when}", name=short(each.name), when=each.when)
                for each in stand_ins
            ),
            *(
                speech.text(
                    "• {link}",
                    link=speech.text(OPEN_LINK[each.trust], until=each.until, when=each.when),
                )
                for each in links
            ),
        ),
        rows=(
            (facts.key(speech.label("Invite another instructor"), Lead.SHARE),),
            (facts.key(speech.label("Find a substitute for a class"), Lead.CLASSES),),
            (facts.key(speech.label("Hand the group over"), Lead.HAND_OVER),),
            *(
                (
                    facts.key(
                        speech.label(TAKE_BACK[each.trust], when=each.when), Lead.TAKE_BACK, each.id
                    ),
                )
                for each in links
            ),
            *(
                (
                    facts.key(
                        speech.label("{name} needn't stand in", name=short(each.name, 28)),
                        Lead.END,
                        each.id,
                    ),
                )
                for each in stand_ins
            ),
            (facts.key(speech.label("I don't want to lead it any more"), Lead.LEAVE),),
            (Key(speech.label("◂ Everyone"), RosterButton(facts.group_id)),),
        ),
    )


def which_class(speech: Speech, group_id: str, classes: Iterable[tuple[str, str]]) -> Message:
    """For which class is a substitute needed? Each by its id and when it is."""
    keys = [(Key(when, LeadButton(group_id, Lead.STAND_IN, session)),) for session, when in classes]
    back = Key(speech.label("◂ Back"), LeadButton(group_id))
    if not keys:
        text = speech.text("No class in the next weeks.")
    else:
        text = speech.text("For which class do you need a substitute?")
    return Message(text=text, rows=(*keys, (back,)), personal=False)


def share_link(speech: Speech, group: str, link: str, until: str) -> Message:
    """To be passed on to one person."""
    return Message(
        text=lines(
            speech.text(
                "Pass this on to the one person who will lead {group} with you. It works once, "
                "until {until}. They will see everything that you see.",
                group=bold(group),
                until=until,
            ),
            link,
        ),
        personal=False,
    )


def handover_question(speech: Speech, group_id: str, group: str) -> Message:
    """The one question before a link that makes somebody else lead."""
    yes = Key(speech.label("Yes, make the link"), LeadButton(group_id, Lead.HANDED_OVER))
    no = Key(speech.label("No"), LeadButton(group_id))
    return Message(
        text=speech.text(
            "Hand {group} over? I make a link for one person. As soon as they accept, they lead "
            "the group in your place, and you no longer see it. Until then you can take the link "
            "back.",
            group=bold(group),
        ),
        rows=((yes,), (no,)),
        personal=False,
    )


def handover_link(speech: Speech, group: str, link: str, until: str) -> Message:
    """To be passed on to one person."""
    return Message(
        text=lines(
            speech.text(
                "Pass this on to the one person who will lead {group} in your place. It works "
                "once, until {until}.",
                group=bold(group),
                until=until,
            ),
            link,
        ),
        personal=False,
    )


def substitute_link(speech: Speech, group: str, when: str, link: str) -> Message:
    """To be passed on to one person."""
    return Message(
        text=lines(
            speech.text(
                "Pass this on to the one person who will stand in for you in {group} on {when}. "
                "It works once. They see that class's digest, and its warning signs; nothing else.",
                group=bold(group),
                when=when,
            ),
            link,
        ),
        personal=False,
    )


def leave_question(speech: Speech, group_id: str, group: str) -> Message:
    """The one question before an instructor leaves a group to the others."""
    yes = Key(speech.label("Yes, I leave it"), LeadButton(group_id, Lead.LEFT))
    no = Key(speech.label("No, I stay"), LeadButton(group_id))
    return Message(
        text=speech.text(
            "Leave {group} to the other instructors? You will no longer see its people, and get no "
            "digest and no alerts. Only they can let you lead it again.",
            group=bold(group),
        ),
        rows=((yes,), (no,)),
        personal=False,
    )


def left(speech: Speech, group: str) -> Message:
    """They no longer lead it."""
    return Message(
        text=speech.text("You no longer lead {group}. Thank you!", group=bold(group)),
        personal=False,
    )


def somebody_left(speech: Speech, name: str, group: str) -> Message:
    """The other instructors are told."""
    return Message(
        text=speech.text("{name} no longer leads {group}.", name=bold(name), group=group)
    )


ALONE = Toast(
    later(
        "You are its only instructor, and nobody would look after the members. Invite another "
        "one first, or hand the group over."
    ),
    stays=True,
)
TAKEN_BACK = Toast(later("Taken back: the link opens nothing any more."))
