"""What the instructor reads before class: all of it in a minute, on a phone."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from bot.buttons import AlertsButton, ClassButton
from bot.buttons.watching import AboutClass
from bot.words.alerts import ONE_BY_ONE, alert_line, briefly, gathered_line
from bot.words.calling import call_names
from bot.words.doses import dose_words
from bot.words.message import LONGEST_TEXT, Key, Message, length, plain
from bot.words.pages import pages
from bot.words.pitch import pitch_words, room_words
from bot.words.reasons import because_of
from bot.words.speech import Html, Speech, bold, later, lines, small
from core.alert import Alert
from core.digest import Difference, Digest, MovementDigest
from core.suggestion import Change, Option

FEW_MEMBERS = 12
"""Up to so many, every option names everybody; in a larger room the largest option is the rest."""

MOST_LISTED = 12
"""Names in a line about new, quiet or paused members; the printed page has all of them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """Which class a digest is about."""

    group: str
    group_id: str
    session_id: str
    when: str
    leads: bool = True
    """Whether the reader leads the group; who stands in has no buttons about its alerts."""


@dataclass(frozen=True, slots=True)
class Detail:
    """How much is told, where all of it wouldn't fit into one message."""

    alerts: int
    differences: int
    everybody: int
    """Members up to whom every option names everybody."""
    named: int = 40
    """Names for one option; the printed page has all of them."""


DETAILS = (
    Detail(8, 8, FEW_MEMBERS),  # with whole names, as long as nobody has to look for theirs
    Detail(8, 8, FEW_MEMBERS),
    Detail(8, 8, 0),
    Detail(6, 4, 0),
    Detail(4, 3, 0, named=4),
)
"""The fullest first; the last one is sent in several messages if it must."""


def digest_messages(
    speech: Speech, digest: Digest, heading: Heading, names: Mapping[str, str]
) -> tuple[Message, ...]:
    """The digest in one message, told in less detail if it must be; else in as few as it takes."""
    here = {*digest.expected, *digest.paused, *(e.member for e in (*digest.alerts, *digest.seen))}
    whole = {member: names[member] for member in names if member in here}
    short = call_names(whole)
    few = len(here) <= FEW_MEMBERS
    written: list[list[Html]] = []
    for detail in DETAILS if few else DETAILS[1:]:
        called = whole if detail is DETAILS[0] else short
        written.append(_blocks(speech, digest, heading, called, detail))
        if length(Html("\n\n".join(written[-1]))) <= LONGEST_TEXT:
            break
    texts = pages(written[-1])
    keys = _keys(speech, digest, heading)
    *before, last = (Message(text=text) for text in texts)
    return (*before, Message(text=last.text, rows=tuple((key,) for key in keys)))


def _keys(speech: Speech, digest: Digest, heading: Heading) -> Iterable[Key]:
    count = len(digest.alerts)
    if count and heading.leads:
        label = speech.labels("Look at {count} alert", "Look at {count} alerts", count)
        yield Key(label, AlertsButton(heading.group_id))
    yield Key(speech.label("One page to print"), ClassButton(heading.session_id, AboutClass.PRINT))


def _blocks(
    speech: Speech, digest: Digest, heading: Heading, names: Mapping[str, str], detail: Detail
) -> list[Html]:
    blocks = [
        _head(speech, digest, heading, names, detail),
        *(_movement(speech, each, digest, names, detail) for each in digest.movements),
        _differences(speech, digest, names, detail),
        _people(speech, digest, names),
        _class_before(speech, digest),
    ]
    return [each for each in blocks if each]


def _head(
    speech: Speech, digest: Digest, heading: Heading, names: Mapping[str, str], detail: Detail
) -> Html:
    one_by_one = [each for each in digest.alerts if each.kind in ONE_BY_ONE]
    shown = one_by_one[: detail.alerts]
    more = len(one_by_one) - len(shown)
    return lines(
        Html(f"{bold(heading.group)} · {heading.when}"),
        speech.texts("{count} member expected", "{count} members expected", len(digest.expected)),
        *(alert_line(speech, each, names[each.member]) for each in shown),
        speech.texts("❗️ and {count} more alert", "❗️ and {count} more alerts", more)
        if more
        else None,
        *_gathered(speech, digest.alerts, names),
        speech.text("Seen, and still so: {alerts}", alerts=_seen(speech, digest, names))
        if digest.seen
        else None,
    )


def _gathered(speech: Speech, alerts: Iterable[Alert], names: Mapping[str, str]) -> Iterable[Html]:
    """One line for all whom the same is said about."""
    kinds: dict[str, list[Alert]] = {}
    for each in alerts:
        if each.kind not in ONE_BY_ONE:
            kinds.setdefault(each.kind, []).append(each)
    for those in kinds.values():
        yield gathered_line(
            speech, those[0].kind, _some(speech, [names[each.member] for each in those])
        )


def _seen(speech: Speech, digest: Digest, names: Mapping[str, str]) -> str:
    told = [
        speech.label("{name}: {what}", name=names[each.member], what=briefly(speech, each))
        for each in digest.seen
    ]
    return _some(speech, told)


def _movement(
    speech: Speech,
    part: MovementDigest,
    digest: Digest,
    names: Mapping[str, str],
    detail: Detail,
) -> Html:
    largest = max((len(each.members) for each in part.options), default=0)
    rest = next((each for each in part.options if len(each.members) == largest), None)
    hides = len(digest.expected) > detail.everybody

    def who(option: Option) -> str:
        members = [each for each in option.members if each not in digest.paused]
        if not hides or option is not rest:
            return _some(speech, [names[each] for each in members], detail.named)
        if len(part.options) == 1:
            return speech.label("everybody")
        return speech.labels("everybody else ({count})", "everybody else ({count})", len(members))

    options = (
        speech.text(
            "▸ {dose}: {names}",
            dose=dose_words(speech, option.dose, part.line.movement),
            names=who(option),
        )
        for option in part.options
    )
    return lines(bold(part.line.movement.name), *options)


def _differences(
    speech: Speech, digest: Digest, names: Mapping[str, str], detail: Detail
) -> Html | None:
    told = [_difference(speech, each, digest, names) for each in digest.differences]
    if not told:
        return None
    more = len(told) - detail.differences
    return lines(
        bold(speech.label("Different from last time")),
        *told[: detail.differences],
        speech.texts("and {count} more", "and {count} more", more) if more > 0 else None,
    )


def _difference(
    speech: Speech, difference: Difference, digest: Digest, names: Mapping[str, str]
) -> Html:
    told, name = difference.telling, names[difference.member]
    line = next(e.line for e in digest.movements if e.line.movement.name == told.movement)
    movements = list(difference.movements)
    if len(movements) == len(digest.movements) > 1:
        about = speech.label("all movements")
    elif len(movements) > 2:
        about = speech.labels(
            "{movement} and {count} more",
            "{movement} and {count} more",
            len(movements) - 1,
            movement=told.movement,
        )
    else:
        about = speech.listed(movements)
    easier = difference.change is Change.EASIER
    return speech.text(
        later("▾ {movements} easier: {why}") if easier else later("▴ {movements} harder: {why}"),
        movements=about,
        why=small(because_of(speech, told, line.movement, name)),
    )


def _people(speech: Speech, digest: Digest, names: Mapping[str, str]) -> Html:
    new, quiet, paused = (
        _some(speech, [names[each] for each in those])
        for those in (digest.new, digest.quiet, digest.paused)
    )
    returning = [
        names[member]
        if days is None
        else speech.labels(
            "{name} ({count} day)", "{name} ({count} days)", days, name=names[member]
        )
        for member, days in digest.returning
    ]
    back = _some(speech, returning)
    return lines(
        speech.text("New, so on the easy side: {names}", names=new) if new else None,
        speech.text("After a break, so easier: {names}", names=back) if back else None,
        speech.text("No answer last time: {names}", names=quiet) if quiet else None,
        speech.text("On pause, so not asked: {names}", names=paused) if paused else None,
    )


def _class_before(speech: Speech, digest: Digest) -> Html:
    return lines(
        None if digest.last is None else pitch_words(speech, digest.last),
        *(room_words(speech, each) for each in digest.room),
    )


def _some(speech: Speech, told: Sequence[str], most: int = MOST_LISTED) -> str:
    """A list that stays short however many it is about."""
    shown = ", ".join(told[:most])
    more = len(told) - most
    if more <= 0:
        return shown
    return speech.labels("{names} and {count} more", "{names} and {count} more", more, names=shown)


NO_GROUP = plain(later("You don't lead a group yet. /newgroup sets one up."))
NOBODY = plain(later("Nobody has joined yet. /invite makes a link for members."))
