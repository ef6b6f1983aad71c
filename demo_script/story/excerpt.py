"""A short true chat to show around: a prompt, the answers, and what was understood."""

import io
import textwrap
from datetime import UTC

from demo_script.story.play import play
from demo_script.story.tale import Script, Tale
from demo_script.telling import BOT, Telling, keys

WIDTH = 88
MARGIN = 7


async def true_excerpt(script: Script) -> str:
    """Play a first week in silence, for the sake of one chat."""
    silent = Telling(out=io.StringIO(), zone=UTC, quiet=True)
    async with play(Script(weeks=1, seed=script.seed), silent) as tale:
        return excerpt(tale)


def excerpt(tale: Tale) -> str:
    """The first prompt of the first member, as text."""
    actor = tale.cast[0]
    prompt = next(each.prompt for each in tale.ledger.given if each.member == actor.name)
    screens = [each for each in tale.witness.by(actor.account) if prompt in each.prompts]
    answers = [each.looked for each in tale.ledger.given if each.prompt == prompt]
    lines: list[str] = []
    for who, sight in ((BOT, screens[0]), (BOT, screens[-1])):
        if sight.message is None:
            continue
        rows = [keys(row) for row in sight.message.labels]
        lines += _said(who, [*filter(None, sight.text.splitlines()), *rows])
        if sight is screens[0]:
            lines += _said(actor.name, [" · ".join(answers)])
    return "\n".join(lines) + "\n"


def _said(who: str, paragraphs: list[str]) -> list[str]:
    wrapped = [line for each in paragraphs for line in textwrap.wrap(each, WIDTH - MARGIN)]
    return [f"{who if place == 0 else '':<{MARGIN}}{line}" for place, line in enumerate(wrapped)]
