"""A short true chat to show around: a prompt, the answers, what was understood."""

import io
import textwrap
from collections.abc import Iterable, Iterator
from datetime import UTC

from demo_script.stand_in import Message
from demo_script.story.incidents import ask
from demo_script.story.play import play
from demo_script.story.tale import Script, Tale
from demo_script.telling import BOT, Telling, keys

WIDTH = 88
MARGIN = 7


async def true_excerpt(script: Script) -> str:
    """Play a first week in silence, and show one member's chat after it."""
    silent = Telling(out=io.StringIO(), zone=UTC, quiet=True)
    async with play(Script(weeks=1, seed=script.seed), silent) as tale:
        actor = tale.cast[0]
        await ask(tale, actor)
        before = excerpt(tale)
        head, *movements, _caution = actor.account.last_message.text.split("\n\n")
        shown = next((each for each in movements if each.splitlines()[0] in before), movements[0])
        following = [head, *(["…"] if shown is not movements[0] else []), *shown.splitlines(), "…"]
        lines = [*_said(actor.name, ["/variant"]), *_said(BOT, following)]
        return before + "\n".join(lines) + "\n"


def excerpt(tale: Tale) -> str:
    """The first prompt of the first member, as text."""
    name, account = tale.cast[0].name, tale.cast[0].account
    prompt = next(each.prompt for each in tale.ledger.given if each.member == name)
    screens = [
        each.message
        for each in tale.witness.by(account)
        if prompt in each.prompts and each.message is not None
    ]
    answers = [each.looked for each in tale.ledger.given if each.prompt == prompt]
    lines = (
        *_said(BOT, _content(screens[0])),
        *_said(name, [" · ".join(answers)]),
        *_said(BOT, _content(screens[-1])),
    )
    return "\n".join(lines) + "\n"


def _content(message: Message) -> Iterator[str]:
    """Its lines, and all its buttons in one more."""
    yield from filter(None, message.text.splitlines())
    yield keys(label for row in message.labels for label in row)


def _said(who: str, paragraphs: Iterable[str]) -> list[str]:
    wrapped = [line for each in paragraphs for line in textwrap.wrap(each, WIDTH - MARGIN)]
    return [f"{who if place == 0 else '':<{MARGIN}}{line}" for place, line in enumerate(wrapped)]
