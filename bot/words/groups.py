"""A group was made, a file was refused, somebody has joined."""

from collections.abc import Iterable
from urllib.parse import urlencode

from bot.errors import Problem
from bot.planfile import PlanFile
from bot.words.message import Message, fitting, plain, short
from bot.words.plans import plan_words
from bot.words.speech import Html, Speech, bold, later, lines
from bot.words.timetables import timetable_words
from bot.words.trial import trial_key

MOST_PROBLEMS = 12
"""Told at once; whoever has more has sent something else than a plan."""
LONGEST_QUOTE = 300
"""Characters of what stands in a file."""


def group_made(
    speech: Speech, group_id: str, plan: PlanFile, dates: Iterable[str], link: str
) -> Message:
    """A group was made; here is what it holds, and the link for members."""
    coming = "; ".join(dates)
    return Message(
        text=lines(
            speech.text("{group} is ready.", group=bold(plan.name)),
            timetable_words(speech, plan),
            speech.text("Next: {dates}", dates=coming)
            if coming
            else speech.text("No class in the next weeks."),
            plan_words(speech, plan.plan),
            "",
            speech.text("Pass this link on to your members, or put it on the wall:"),
            link,
            "",
            speech.text("I send you the digest before each class, and ask your members after it."),
        ),
        rows=((trial_key(speech, group_id),),),
        personal=False,
    )


def file_refused(speech: Speech, problems: tuple[Problem, ...]) -> Message:
    """A plan file was not accepted: everything that is wrong with it, in the file's own terms."""
    told = min(len(problems), MOST_PROBLEMS)
    texts = (_first_problems(speech, problems, some) for some in range(told, 0, -1))
    return Message(text=fitting(texts), personal=False)


def _first_problems(speech: Speech, problems: tuple[Problem, ...], told: int) -> Html:
    more = len(problems) - told
    return lines(
        speech.text("I can't use this file yet. Nothing was changed."),
        "",
        *(
            speech.text(
                "• {where}: {wrong}; expected {expected}",
                where=bold(short(problem.where, LONGEST_QUOTE)),
                wrong=short(problem.wrong, LONGEST_QUOTE),
                expected=short(problem.expected, LONGEST_QUOTE),
            )
            for problem in problems[:told]
        ),
        speech.texts("and {count} more", "and {count} more", more) if more > 0 else None,
    )


def invite_link(username: str, code: str) -> str:
    """The link that opens the chat with the bot and hands it the code."""
    return f"https://t.me/{username}?{urlencode({'start': code})}"


def member_joined(speech: Speech, name: str, group: str, count: int) -> Message:
    """Someone has joined."""
    return Message(
        text=speech.texts(
            "{name} has joined {group}: {count} member now.",
            "{name} has joined {group}: {count} members now.",
            count,
            name=bold(name),
            group=group,
        )
    )


KEPT = plain(later("All right, the old plan stays."))
ONLY_THE_OWNER = plain(
    later(
        "Only whoever claimed this bot can make a new group. Nothing was changed. To change a "
        "group that you lead, send a file with its name."
    )
)
FILES_ARE_FOR_INSTRUCTORS = plain(
    later("I can only take files from an instructor. Nothing was stored.")
)
TOO_LARGE = plain(
    later("That file is larger than 256 KB, so it can't be a plan. Nothing was changed.")
)
NOT_A_PLAN = plain(
    later("I expected a plan file (.toml) or a calendar file (.ics). Nothing was changed.")
)
FILE_UNREADABLE = plain(later("I can't read that file as UTF-8 text. Nothing was changed."))
