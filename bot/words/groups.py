"""Making a group from a plan file, and inviting people to it."""

from collections.abc import Iterable
from urllib.parse import urlencode

from bot.buttons import ReplaceButton
from bot.errors import Problem
from bot.planfile import PlanFile
from bot.words.doses import dose_words
from bot.words.message import Key, Message, fitting, plain, short
from bot.words.speech import Html, Speech, bold, later, lines

MOST_PROBLEMS = 12
"""Told at once; whoever has more has sent something else than a plan."""
LONGEST_QUOTE = 300
"""Characters of what stands in a file."""


def group_made(speech: Speech, plan: PlanFile, dates: Iterable[str], link: str) -> Message:
    """A group was made; here is what it holds, and the link for members."""
    return Message(
        text=lines(
            speech.text("{group} is ready.", group=bold(plan.name)),
            _summary(speech, plan, dates),
            "",
            speech.text("Pass this link on to your members, or put it on the wall:"),
            link,
            "",
            speech.text("I send you the digest before each class, and ask your members after it."),
        ),
        personal=False,
    )


def group_changed(speech: Speech, plan: PlanFile, dates: Iterable[str]) -> Message:
    """The plan of a group was replaced."""
    first = speech.text(
        "{group} follows the new plan from the next class on.", group=bold(plan.name)
    )
    return Message(text=lines(first, _summary(speech, plan, dates)), personal=False)


def replace_question(
    speech: Speech, group: str, plan: PlanFile, dates: Iterable[str], upload: str
) -> Message:
    """There is a group of that name already."""
    return Message(
        text=lines(
            speech.text(
                "You already lead {group}. Should it follow this plan from the next class on? What "
                "was said so far stays.",
                group=bold(group),
            ),
            _summary(speech, plan, dates),
        ),
        rows=(
            (Key(speech.label("Yes, use the new plan"), ReplaceButton(upload, yes=True)),),
            (Key(speech.label("No, keep the old one"), ReplaceButton(upload, yes=False)),),
        ),
        personal=False,
    )


def _summary(speech: Speech, plan: PlanFile, dates: Iterable[str]) -> Html:
    coming = "; ".join(dates)
    return lines(
        speech.text(
            "{minutes} minutes, effort aimed at {target}",
            minutes=plan.minutes,
            target=speech.number(plan.plan.target),
        ),
        speech.text("Next: {dates}", dates=coming)
        if coming
        else speech.text("No class in the next weeks."),
        *(
            speech.text(
                "• {movement}: {dose}",
                movement=line.movement.name,
                dose=dose_words(speech, line.dose, line.movement),
            )
            for line in plan.plan.lines
        ),
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


def invite(speech: Speech, group: str, link: str) -> Message:
    """A new link; the older ones no longer work."""
    first = speech.text(
        "This link lets people join {group}. Older links no longer work.", group=bold(group)
    )
    return Message(text=lines(first, link), personal=False)


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
    later("I expected a plan file: a document whose name ends in .toml. Nothing was changed.")
)
FILE_UNREADABLE = plain(later("I can't read that file as UTF-8 text. Nothing was changed."))
