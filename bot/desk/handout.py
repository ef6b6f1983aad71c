"""The page to print: a digest as a table of everybody, made outside of any transaction."""

from datetime import datetime

from bot.desk.digest_facts import WorkedOut, digest_facts, work_out
from bot.desk.substitutes import may_read
from bot.desk.voice import speech_to
from bot.pictures.cards import Direction, Handout, HandoutMovement, HandoutRow
from bot.pictures.render import printed
from bot.storage.database import Database, Transaction
from bot.storage.outbox import Attachment, Kind, Letter, Priority, queue
from bot.storage.people import Person
from bot.storage.sessions import Session
from bot.tasks import aside
from bot.words import handout as words
from bot.words.doses import dose_words
from bot.words.message import plain_of
from bot.words.pitch import pitch_words, room_words
from bot.words.speech import Html, Speech
from core.digest import Digest
from core.suggestion import Change, Option, Suggestion

DIRECTIONS = {
    Change.EASIER: Direction.EASIER,
    Change.SAME: Direction.SAME,
    Change.HARDER: Direction.HARDER,
}


async def send_handout(
    database: Database, session: Session, reader: Person, reason: str, now: datetime
) -> None:
    """Work it out, draw it, and queue it; `reason` names the press, so that it comes once."""
    facts = await database.read(lambda tx: digest_facts(tx, session, now))
    worked = await aside(work_out, facts)
    if worked.digest is None:
        return
    speech = speech_to(reader)
    card = handout_of(speech, worked, worked.digest)
    content = await printed(card)
    said = words.caption(speech, facts.group.name, card.when)
    async with database.transaction() as tx:
        if await may_read(tx, session, reader, now):
            await _queue(tx, reader, content, words.file_name(speech), said, reason, now)


def handout_of(speech: Speech, worked: WorkedOut, digest: Digest) -> Handout:
    """Everybody by every movement: the number of the option that is theirs."""
    facts = worked.facts
    told = {(each.member, each.movement): each for each in worked.told.called}
    room = [] if digest.last is None else [plain_of(pitch_words(speech, digest.last))]
    room += [plain_of(room_words(speech, each)) for each in digest.room]
    return Handout(
        title=facts.group.name,
        when=speech.moment(facts.session.starts_at, facts.plan.timezone),
        lines=(words.count_line(speech, digest), *room),
        movements=tuple(
            HandoutMovement(
                name=each.line.movement.name,
                options=tuple(
                    dose_words(speech, option.dose, each.line.movement) for option in each.options
                ),
            )
            for each in digest.movements
        ),
        rows=tuple(
            HandoutRow(
                name=person.name,
                cells=tuple(
                    _cell(told.get((person.id, each.line.movement.name)), each.options)
                    for each in digest.movements
                ),
                note=words.note(speech, digest, person.id),
            )
            for person in facts.people
        ),
        name_label=words.name_label(speech),
        note_label=words.note_label(speech),
        legend=words.legend(speech),
    )


def _cell(told: Suggestion | None, options: tuple[Option, ...]) -> tuple[int | None, Direction]:
    if told is None:
        return None, Direction.SAME
    doses = [option.dose for option in options]
    number = doses.index(told.dose) + 1 if told.dose in doses else None
    return number, DIRECTIONS[told.change]


async def _queue(
    tx: Transaction,
    reader: Person,
    content: bytes,
    name: str,
    said: Html,
    reason: str,
    now: datetime,
) -> None:
    letter = Letter(
        id=f"handout/{reader.id}/{reason}",
        chat=reader.account,
        method="sendDocument",
        arguments={"caption": said, "parse_mode": "HTML", "protect_content": False},
        priority=Priority.INTERACTIVE,
        kind=Kind.DIGEST,
        file=Attachment(field="document", name=name, content=content),
    )
    await queue(tx, letter, now)
