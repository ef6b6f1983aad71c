"""What the instructor reads before class."""

from collections.abc import Iterable, Mapping

from bot.words.alerts import alert_line
from bot.words.dates import day_words, number_words
from bot.words.doses import dose_words
from bot.words.message import Message, bold, html
from bot.words.reasons import because_of
from core.digest import Digest, MovementDigest, Pitch
from core.plan import Plan
from core.suggestion import Change

LONGEST = 4000
"""Characters of one message, below the chat API's 4096 after its markup is taken off."""
MOST_CHANGES = 3
"""Changes told with their reason for one movement; the options name everybody anyway."""


def digest_messages(
    digest: Digest, plan: Plan, *, group: str, when: str, names: Mapping[str, str]
) -> tuple[Message, ...]:
    """The digest, in as few messages as it fits into."""
    blocks = [_head(digest, group, when, names)]
    blocks += [_movement(each, plan, names) for each in digest.movements]
    return tuple(Message(text=text) for text in _pages(blocks))


def _head(digest: Digest, group: str, when: str, names: Mapping[str, str]) -> str:
    lines = [f"{bold(group)} · {html(when)}", f"Members: {len(digest.members)}"]
    lines += [alert_line(alert, names[alert.member]) for alert in digest.alerts]
    if digest.last is not None:
        lines.append(html(pitch_words(digest.last)))
    if digest.quiet:
        lines.append(f"No answer last time: {html(_names(digest.quiet, names))}")
    return "\n".join(lines)


def pitch_words(pitch: Pitch) -> str:
    """How the last class was felt, in one line."""
    day = day_words(pitch.on)
    if pitch.median is None:
        return f"Last class ({day}): nobody has rated it."
    return (
        f"Last class ({day}): {number_words(pitch.median)} in the middle, "
        f"aimed at {number_words(pitch.target)}; {pitch.in_range} of {pitch.rated} in range."
    )


def _movement(part: MovementDigest, plan: Plan, names: Mapping[str, str]) -> str:
    line = plan.line(part.movement)
    if line is None:
        return bold(part.movement)
    lines = [bold(part.movement)]
    for option in part.options:
        dose = html(dose_words(option.dose, line.movement))
        lines.append(f"▸ {dose}: {html(_names(option.members, names))}")
    for each in part.changes[:MOST_CHANGES]:
        way = "easier" if each.change is Change.EASIER else "harder"
        why = because_of(each, line.movement, names[each.member])
        lines.append(f"<i>{way}: {html(why)}</i>")
    if len(part.changes) > MOST_CHANGES:
        lines.append(f"<i>and {len(part.changes) - MOST_CHANGES} more small changes</i>")
    return "\n".join(lines)


def _names(members: Iterable[str], names: Mapping[str, str]) -> str:
    return ", ".join(names[member] for member in members)


def _pages(blocks: Iterable[str]) -> list[str]:
    pages: list[str] = []
    for block in blocks:
        if pages and len(pages[-1]) + len(block) + 2 <= LONGEST:
            pages[-1] += f"\n\n{block}"
        else:
            pages.append(block)
    return pages


NO_GROUP = Message(
    text="You don't lead a group yet. Send me a plan file (.toml) to make one.", personal=False
)
NOBODY = Message(text="Nobody has joined yet. /invite makes a link for members.", personal=False)
