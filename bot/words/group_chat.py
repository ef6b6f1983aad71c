"""The group's own chat: linking it, the question that stands there, and what a tap is told."""

from collections.abc import Mapping
from datetime import date

from bot.buttons import LinkButton, TapButton, UnlinkButton
from bot.words.message import Key, Link, Message, plain, short
from bot.words.scale import scale_line
from bot.words.speech import Html, Speech, bold, later, lines
from bot.words.toasts import Toast

LOWEST_ROW, HIGHEST_ROW = range(6), range(6, 11)


def shared_question(
    speech: Speech, question: str, *, group: str, on: date, count: int, address: str
) -> Message:
    """The question about one class that everybody in the chat sees; a count of 0 isn't shown."""
    rows = [
        tuple(Key(speech.number(each), TapButton(question, each)) for each in row)
        for row in (LOWEST_ROW, HIGHEST_ROW)
    ]
    absent = Key(speech.label("I wasn't there"), TapButton(question, None))
    return Message(
        text=lines(
            _head(speech, group, on),
            "",
            speech.text("How hard was the whole class for you?"),
            scale_line(speech),
            "",
            speech.text("Tap a number: nobody in this chat sees it but you and your instructors."),
            _count(speech, count),
        ),
        rows=(*rows, (absent,), (Link(speech.label("The rest, in private"), address),)),
        personal=False,
    )


def closed_question(speech: Speech, *, group: str, on: date, count: int) -> Message:
    """The same, once the class after it is over."""
    return Message(
        text=lines(
            _head(speech, group, on),
            "",
            speech.text("This question is closed. Thank you!"),
            _count(speech, count),
        ),
        personal=False,
    )


def _head(speech: Speech, group: str, on: date) -> Html:
    return Html(f"{bold(group)} · {speech.day(on)}")


def _count(speech: Speech, count: int) -> Html | None:
    if not count:
        return None
    return speech.texts("{count} answer so far.", "{count} answers so far.", count)


def tapped(speech: Speech, number: int | None, *, more: bool) -> Toast:
    """What whoever tapped is told, and nobody else; `more` if questions are left in private."""
    if number is None:
        return ABSENT
    return Toast(MORE if more else ALL, facts={"rating": speech.number(number)})


MORE = later("Noted: {rating}. The rest is in our private chat.")
ALL = later("Noted: {rating}. Thank you, that's everything.")
ABSENT = Toast(later("Noted: you weren't there."))
ASK_FOR_LINK = Toast(
    later("Only members' answers are kept. To become one, ask your instructor for a link."),
    stays=True,
)
YOU_LEAD = Toast(later("You lead this class: only its members' answers are kept."))
TAKEN_TOAST = Toast(later("This chat already belongs to another class."), stays=True)


def whose_chat(speech: Speech, title: str, led: Mapping[str, str], offer: str) -> Message:
    """I am in a chat now: whose is it? `led` holds the names of the groups, by id."""
    rows = tuple((Key(short(name), LinkButton(offer, id)),) for id, name in led.items())
    return Message(
        text=lines(
            speech.text("I am in the chat {chat}. Which class talks there?", chat=bold(title)),
            "",
            speech.text(
                "After each class I'll ask there once how hard it was. A tap is answered to that "
                "person alone, and the chat sees no more than how many have answered. Everyone "
                "still gets their own questions in private."
            ),
            "",
            speech.text("If it is none of your classes, just ignore this."),
        ),
        rows=rows,
        personal=False,
    )


def linked(speech: Speech, group_id: str, group: str, title: str) -> Message:
    """This is the chat of that group."""
    unlink = Key(speech.label("Don't ask there any more"), UnlinkButton(group_id))
    return Message(
        text=speech.text(
            "{chat} is the chat of {group}. After each class I ask there how hard it was.",
            chat=bold(title),
            group=bold(group),
        ),
        rows=((unlink,),),
        personal=False,
    )


def unlinked(speech: Speech, group_id: str, group: str, title: str, offer: str) -> Message:
    """The group has no chat any more, which can be undone."""
    again = Key(speech.label("Link it again"), LinkButton(offer, group_id))
    return Message(
        text=speech.text(
            "I no longer ask in {chat}. Everyone in {group} gets their questions in private.",
            chat=bold(title),
            group=bold(group),
        ),
        rows=((again,),),
        personal=False,
    )


def no_chat(speech: Speech, group: str, username: str) -> Message:
    """A group has no chat yet, and how it gets one."""
    add = Link(speech.label("Add me to a group chat"), f"https://t.me/{username}?startgroup=class")
    return Message(
        text=speech.text(
            "{group} has no group chat yet. Add me to it with the button below, and I'll ask you "
            "here whose chat it is. If I am in it already, or to ask in one of its topics, write "
            "{command} there.",
            group=bold(group),
            command=f"/groupchat@{username}",
        ),
        rows=((add,),),
        personal=False,
    )


def lost(speech: Speech, group: str, title: str) -> Message:
    """The chat refuses us."""
    return Message(
        text=speech.text(
            "I can't write in {chat}, the chat of {group}, any more: I was taken out of it, or may "
            "not write there. Everyone still gets their questions in private. To have me back, add "
            "me again or let me write; /groupchat shows more.",
            chat=bold(title),
            group=bold(group),
        ),
        personal=False,
    )


def found_again(speech: Speech, group: str, title: str) -> Message:
    """The chat takes us again."""
    return Message(
        text=speech.text(
            "I am back in {chat} and ask there after the next class of {group}.",
            chat=bold(title),
            group=bold(group),
        ),
        personal=False,
    )


TAKEN = plain(
    later(
        "That chat already belongs to another class, so I can't use it for yours. A chat with "
        "topics can have one class in each topic: write /groupchat in the topic that is yours."
    )
)
