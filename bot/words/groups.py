"""Making a group from a plan file, and inviting people to it."""

from collections.abc import Iterable
from urllib.parse import urlencode

from bot.buttons import ReplaceButton
from bot.errors import Problem
from bot.planfile import PlanFile
from bot.words.dates import number_words
from bot.words.doses import dose_words
from bot.words.message import Key, Message, bold, html

MOST_PROBLEMS = 12
MOST_DATES = 3


def group_made(plan: PlanFile, dates: Iterable[str], link: str) -> Message:
    """A group was made; here is what it holds, and the link for members."""
    return Message(
        text="\n".join(
            [
                f"{bold(plan.name)} is ready.",
                *_summary(plan, dates),
                "",
                "Pass this link on to your members, or put it on the wall:",
                html(link),
                "",
                "I send you the digest before each class, and ask your members after it.",
            ]
        ),
        personal=False,
    )


def group_changed(plan: PlanFile, dates: Iterable[str]) -> Message:
    """The plan of a group was replaced."""
    return Message(
        text="\n".join(
            [
                f"{bold(plan.name)} follows the new plan from the next class on.",
                *_summary(plan, dates),
            ]
        ),
        personal=False,
    )


def replace_question(group: str, plan: PlanFile, dates: Iterable[str], upload: str) -> Message:
    """There is a group of that name already."""
    return Message(
        text="\n".join(
            [
                f"You already lead {bold(group)}. Should it follow this plan from the next "
                "class on? What was said so far stays.",
                *_summary(plan, dates),
            ]
        ),
        rows=(
            (Key("Yes, use the new plan", ReplaceButton(upload, yes=True)),),
            (Key("No, keep the old one", ReplaceButton(upload, yes=False)),),
        ),
        personal=False,
    )


KEPT = Message(text="All right, the old plan stays.", personal=False)


def _summary(plan: PlanFile, dates: Iterable[str]) -> list[str]:
    shown = list(dates)[:MOST_DATES]
    lines = [f"{plan.minutes} minutes, effort aimed at {number_words(plan.plan.target)}"]
    lines.append("Next: " + html("; ".join(shown)) if shown else "No class in the next weeks.")
    lines += [
        f"• {html(line.movement.name)}: {html(dose_words(line.dose, line.movement))}"
        for line in plan.plan.lines
    ]
    return lines


def file_refused(problems: tuple[Problem, ...]) -> Message:
    """A plan file was not accepted: everything that is wrong with it."""
    lines = ["I can't use this file yet. Nothing was changed.", ""]
    lines += [
        f"• {bold(problem.where)}: {html(problem.wrong)}; expected {html(problem.expected)}"
        for problem in problems[:MOST_PROBLEMS]
    ]
    if len(problems) > MOST_PROBLEMS:
        lines.append(f"• and {len(problems) - MOST_PROBLEMS} more")
    return Message(text="\n".join(lines), personal=False)


def invite(group: str, link: str) -> Message:
    """A new link; the older ones no longer work."""
    return Message(
        text=(
            f"This link lets people join {bold(group)}. Older links no longer work.\n{html(link)}"
        ),
        personal=False,
    )


def invite_link(username: str, code: str) -> str:
    """The link that opens the chat with the bot and hands it the code."""
    return f"https://t.me/{username}?{urlencode({'start': code})}"


def member_joined(name: str, group: str, count: int) -> Message:
    """Someone has joined."""
    people = "member" if count == 1 else "members"
    return Message(text=f"{bold(name)} has joined {bold(group)}: {count} {people} now.")


ONLY_THE_OWNER = Message(
    text="Only whoever claimed this bot can make a new group. Nothing was changed. To change a "
    "group that you lead, send a file with its name.",
    personal=False,
)
FILES_ARE_FOR_INSTRUCTORS = Message(
    text="I can only take files from an instructor. Nothing was stored.", personal=False
)
TOO_LARGE = Message(
    text="That file is larger than 256 KB, so it can't be a plan. Nothing was changed.",
    personal=False,
)
NOT_A_PLAN = Message(
    text="I expected a plan file: a document whose name ends in .toml. Nothing was changed.",
    personal=False,
)
FILE_UNREADABLE = Message(
    text="I can't read that file as UTF-8 text. Nothing was changed.", personal=False
)
