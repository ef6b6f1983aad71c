"""Messages under which nothing can be pressed, and what each of them says is next."""

import re

from bot.words import clearing, help, hurting, joining, mydata, pausing
from bot.words.message import MARKUP
from bot.words.speech import LANGUAGES, speech_for

COMMAND = re.compile(r"(?<![\w/])/[a-z]+")
FILE = "<file>"
"""A picture or a document without words."""


def says_what_is_next(text: str) -> bool:
    """Whether whoever reads this knows what to do, or that there is nothing to do."""
    known = text.startswith(BEGINNINGS) or any(each in text for each in SAID_TO_INSTRUCTORS)
    return text == FILE or bool(COMMAND.search(text)) or known


def _beginnings() -> tuple[str, ...]:
    """Those that name no command; each with what it says instead."""
    found = []
    for speech in map(speech_for, LANGUAGES):
        nothing = mydata.receipt(speech, groups=0, classes=0, answers=0, symptoms=0)
        told = (
            help.NOT_A_RATING(speech).text,  # tap a number, or type it
            help.NOT_AN_AMOUNT(speech).text,  # tap a button, or type the number
            help.NOT_PART_OF_IT(speech).text,  # the same
            help.USE_THE_BUTTONS(speech).text,  # one of them
            clearing.STILL_HELD(speech).text,  # wait for the instructor
            clearing.RELEASED(speech).text,  # it is over
            pausing.BACK(speech).text,  # wait for the next class
            pausing.NOT_PAUSED(speech).text,  # the same
            joining.STRANGER(speech).text,  # use the link
            joining.NOT_JOINED(speech).text,  # the same
            hurting.NOT_HERE(speech).text,  # get help elsewhere
            mydata.json_caption(speech),  # read it
            mydata.csv_caption(speech),  # read it
            joining.declined(speech, "{").text.partition("{")[0],  # the link still works
            nothing.text.partition("\n")[0],  # it is over
        )
        found += [MARKUP.sub("", each) for each in told]
    return tuple(found)


BEGINNINGS = _beginnings()

SAID_TO_INSTRUCTORS = (
    "To print: whoever scans it",  # print it
    "one page to print",  # the same
    "The draft is gone.",  # it is over
    "follows this plan ",  # it holds; nothing is to be done
    "the old plan stays",  # it is over
    "the timetable stays as it is",  # the same
    "can't be a name: please write",  # write another
    "Pass this link on",  # do
    "Pass this on to",  # the same
    "I've told 1 member",  # it is over
    "files are on their way",  # wait for them
    "for you as its instructor",  # read it
    "You no longer lead ",  # it is over
    "and the link still works",  # it is over, or follow the link again
)
"""Parts of what ends a thing that an instructor does, each with what it says instead."""
