"""What the instructor reads before class."""

from collections.abc import Iterable, Mapping

from bot.words.alerts import alert_line
from bot.words.doses import dose_words
from bot.words.message import LONGEST_TEXT, Message, length, plain
from bot.words.reasons import because_of
from bot.words.speech import Html, Speech, bold, later, lines, small
from core.digest import Digest, MovementDigest, Pitch
from core.plan import Plan
from core.suggestion import Change, Suggestion

MOST_CHANGES = 3
"""Changes told with their reason for one movement; the options name everybody anyway."""


def digest_messages(
    speech: Speech,
    digest: Digest,
    plan: Plan,
    *,
    group: str,
    when: str,
    names: Mapping[str, str],
) -> tuple[Message, ...]:
    """The digest, in as few messages as it fits into."""
    blocks = [_head(speech, digest, group, when, names)]
    blocks += [_movement(speech, each, plan, names) for each in digest.movements]
    return tuple(Message(text=page) for page in _pages(blocks))


def _head(speech: Speech, digest: Digest, group: str, when: str, names: Mapping[str, str]) -> Html:
    quiet, new = _names(speech, digest.quiet, names), _names(speech, digest.new, names)
    paused = _names(speech, digest.paused, names)
    return lines(
        Html(f"{bold(group)} · {when}"),
        speech.texts("{count} member", "{count} members", len(digest.members)),
        *(alert_line(speech, alert, names[alert.member]) for alert in digest.alerts),
        None if digest.last is None else pitch_words(speech, digest.last),
        speech.text("New, so on the easy side: {names}", names=new) if new else None,
        speech.text("No answer last time: {names}", names=quiet) if quiet else None,
        speech.text("On pause, so not asked: {names}", names=paused) if paused else None,
    )


def pitch_words(speech: Speech, pitch: Pitch) -> Html:
    """How the last class was felt, in one line."""
    day = speech.day(pitch.on)
    if pitch.median is None:
        return speech.text("Last class ({day}): nobody has rated it.", day=day)
    return speech.text(
        "Last class ({day}): {median} in the middle, aimed at {target}; {in_range} of {rated} in "
        "range.",
        day=day,
        median=speech.number(pitch.median),
        target=speech.number(pitch.target),
        in_range=pitch.in_range,
        rated=pitch.rated,
    )


def _movement(speech: Speech, part: MovementDigest, plan: Plan, names: Mapping[str, str]) -> Html:
    line = plan.line(part.movement)
    if line is None:
        return bold(part.movement)
    options = [
        speech.text(
            "▸ {dose}: {names}",
            dose=dose_words(speech, option.dose, line.movement),
            names=_names(speech, option.members, names),
        )
        for option in part.options
    ]
    reasons = [
        small(_change(speech, each, plan, names[each.member]))
        for each in part.changes[:MOST_CHANGES]
    ]
    return lines(bold(part.movement), *options, *reasons)


def _change(speech: Speech, suggestion: Suggestion, plan: Plan, name: str) -> Html:
    line = plan.line(suggestion.movement)
    why = "" if line is None else because_of(speech, suggestion, line.movement, name)
    easier = suggestion.change is Change.EASIER
    return speech.text(later("Easier: {why}") if easier else later("Harder: {why}"), why=why)


def _names(speech: Speech, members: Iterable[str], names: Mapping[str, str]) -> str:
    return ", ".join(names[member] for member in members)


def _pages(blocks: Iterable[Html]) -> list[Html]:
    """As few messages as it takes; what is too long for one is cut between lines, or names."""
    fitting = (page for block in blocks for page in _joined(_lines(block), "\n"))
    return _joined(fitting, "\n\n")


def _lines(block: Html) -> Iterable[str]:
    """The lines of a block; one that no message could hold, since it names so many, in parts."""
    for line in block.split("\n"):
        yield from [line] if length(Html(line)) <= LONGEST_TEXT else _joined(line.split(", "), ", ")


def _joined(parts: Iterable[str], gap: str) -> list[Html]:
    """Parts put together, as many as fit; each is HTML that stands by itself."""
    pages: list[Html] = []
    for part in parts:
        if pages and length(Html(pages[-1] + gap + part)) <= LONGEST_TEXT:
            pages[-1] = Html(pages[-1] + gap + part)
        else:
            pages.append(Html(part))
    return pages


NO_GROUP = plain(later("You don't lead a group yet. Send me a plan file (.toml) to make one."))
NOBODY = plain(later("Nobody has joined yet. /invite makes a link for members."))
