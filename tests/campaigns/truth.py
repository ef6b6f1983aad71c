"""What is stored and was sent, against what people said and must have got."""

import json
from collections import Counter
from dataclasses import dataclass

from bot.words.alerts import REPEATED
from demo_script.stand_in import Person, StandIn
from tests.campaigns.ground import Ground
from tests.campaigns.room import Room
from tests.journeys.evening import asked, is_summary
from tests.looking import faults, rows

ANSWERS = """SELECT account, question, word, number FROM answer
JOIN prompt ON prompt.id = prompt_id JOIN person ON person.id = person_id"""
PARKED = "SELECT count(*) FROM inbox WHERE parked_at IS NOT NULL"
PUT_AWAY = "SELECT count(*) FROM inbox WHERE problem = 'too much'"
IN_DOUBT = "SELECT kind, sum(doubts) FROM outbox WHERE edits IS NULL OR anew = 1 GROUP BY kind"
NEW_MESSAGES = ("sendMessage", "sendPhoto", "sendDocument")

OF_ALERTS = ("❗️", "‼️")
"""How every alert begins, also one that no longer holds and so has no button left."""

Arrived = tuple[int, str, str]
"""Chat, buttons and text of a new message."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Truth:
    """What a campaign has found; `clean` says what must be nought."""

    said: int
    """Answers that the chat service had accepted."""
    lost: int
    """Of these, those that are not stored, or not as they were last given."""
    invented: int
    """Answers that are stored, and nobody gave."""
    missing_prompts: int
    """Members who were never asked."""
    digests: int
    """Classes whose digest fell due."""
    missing_digests: int
    """Of these, those before which the instructor got none."""
    parked: int
    """Updates that the bot has given up."""
    put_away: int
    """Updates that it didn't read, since somebody sent too many; the room sends fewer."""
    corrupt: int
    """What there is against the database: integrity and foreign keys."""
    doubled: Counter[str]
    """Messages that arrived twice, by kind."""
    twice: tuple[str, ...]
    """What these said, for whoever wonders."""
    in_doubt: Counter[str]
    """Sends that may have arrived when the answer was lost, by kind; a double needs one."""

    @property
    def clean(self) -> bool:
        """Whether nothing was lost, and nothing was doubled without a doubt."""
        must_be_nought = (
            self.lost,
            self.invented,
            self.missing_prompts,
            self.missing_digests,
            self.parked,
            self.put_away,
            self.corrupt,
        )
        return not any(must_be_nought) and self.doubled <= self.in_doubt


def compare(ground: Ground, room: Room) -> Truth:
    """Compare once everything is quiet."""
    answers = rows(ground.place, ANSWERS)
    ((parked,), (put_away,)) = (rows(ground.place, each)[0] for each in (PARKED, PUT_AWAY))
    doubts = Counter({str(kind): int(str(count)) for kind, count in rows(ground.place, IN_DOUBT)})
    stored = {
        (account, question): number if word is None else word
        for account, question, word, number in answers
    }
    assert len(stored) == len(answers), "one answer is stored twice"
    arrived, instructor = _new_messages(ground.api), ground.instructor.person_id
    got = [text for chat, _, text in arrived if chat == instructor]
    extra = _beyond_the_first(arrived)
    return Truth(
        said=len(room.said),
        lost=sum(stored.get(key) != value for key, value in room.said.items()),
        invented=len(stored.keys() - room.said.keys()),
        missing_prompts=sum(not _was_asked(each) for each in room.members),
        digests=len(ground.digests),
        missing_digests=sum(
            not any(text.startswith(each) for text in got) for each in ground.digests
        ),
        parked=int(str(parked)),
        put_away=int(str(put_away)),
        corrupt=faults(ground.place),
        doubled=_doubled(extra, instructor),
        twice=tuple(text for _, _, text in extra),
        in_doubt=doubts,
    )


def _was_asked(person: Person) -> bool:
    return any(asked(each) or is_summary(each) for each in person.messages)


def _new_messages(api: StandIn) -> list[Arrived]:
    """Every message that arrived, in order."""
    return [
        (
            int(str(each.params["chat_id"])),
            _as_text(each.params.get("reply_markup")),
            str(each.params.get("text") or each.params.get("caption") or ""),
        )
        for each in api.requests
        if each.method in NEW_MESSAGES and each.applied
    ]


def _as_text(markup: object) -> str:
    """With a file it comes as text, else as it is."""
    return markup if isinstance(markup, str) else json.dumps(markup)


def _beyond_the_first(arrived: list[Arrived]) -> Counter[Arrived]:
    """Which say the same in the same chat as an earlier one, and how often."""
    times = Counter(
        (chat, markup, text.removesuffix(f"\n{REPEATED}")) for chat, markup, text in arrived
    )
    return times - Counter(times.keys())


def _doubled(extra: Counter[Arrived], instructor: int) -> Counter[str]:
    found: Counter[str] = Counter()
    for (chat, markup, text), count in extra.items():
        found[kind_of(markup, text, of_instructor=chat == instructor)] += count
    return found


def kind_of(markup: str, text: str, *, of_instructor: bool) -> str:
    """As the outbox has it; an instructor's other messages are digests."""
    if '"a:' in markup:
        return "prompt"
    if not of_instructor:
        return "confirmation"
    return "alert" if '"k:' in markup or text.startswith(OF_ALERTS) else "digest"
