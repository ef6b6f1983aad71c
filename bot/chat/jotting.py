"""An instructor has typed what they were asked for: a name, a note, or whom they invite."""

from datetime import timedelta

from bot.chat.leading import led_group
from bot.chat.visit import Visit
from bot.desk.calendar import plan_of
from bot.desk.roster import card_of
from bot.luck import fingerprint, new_code
from bot.storage import members, notes
from bot.storage import roster as stored
from bot.storage.groups import Group
from bot.storage.jottings import Jotting, JottingKind, end_jotting
from bot.storage.people import Person
from bot.words import newcomers
from bot.words import notes as note_words
from bot.words import person as words
from bot.words.groups import invite_link
from bot.words.person import Card
from core.names import LONGEST_NAME, readable, tidy

INVITED_FOR = timedelta(days=30)


async def keep_jotting(visit: Visit, person: Person, jotting: Jotting) -> None:
    """Keep it, if they still lead the group; what can't be kept is asked for once more."""
    group = await led_group(visit, jotting.group_id)
    if group is None:
        await end_jotting(visit.tx, person.id)
        await visit.say(words.NOTHING_CHANGED(visit.speech))
    elif jotting.kind is JottingKind.INVITE:
        await _invite(visit, person, group)
    elif (card := await _card(visit, group, jotting.about)) is None:
        await end_jotting(visit.tx, person.id)
        await visit.say(words.NOTHING_CHANGED(visit.speech))
    elif jotting.kind is JottingKind.NAME:
        await _rename(visit, person, group, card)
    else:
        await _note(visit, person, group, card)


async def _rename(visit: Visit, person: Person, group: Group, card: Card) -> None:
    name = _name(visit.text)
    if name is None:
        await visit.say(words.NOT_A_NAME(visit.speech))
        return
    called = None if name == card.chat_name else name
    await stored.call_member(visit.tx, group.id, card.person, called)
    await end_jotting(visit.tx, person.id)
    named = await _card(visit, group, card.person)
    if named is not None:
        await visit.say(words.renamed(visit.speech, named))


async def _note(visit: Visit, person: Person, group: Group, card: Card) -> None:
    text = "\n".join(filter(None, (_tidy_line(each) for each in visit.text.splitlines())))
    if not 0 < len(text) <= notes.LONGEST_NOTE:
        await visit.say(note_words.NOT_A_NOTE(visit.speech))
        return
    await notes.put_note(
        visit.tx,
        group.id,
        card.person,
        text,
        by=person.id,
        reason=visit.update_id,
        now=visit.now,
    )
    await end_jotting(visit.tx, person.id)
    noted = await _card(visit, group, card.person)
    if noted is not None:
        await visit.say(note_words.notes_message(visit.speech, noted))


async def _invite(visit: Visit, person: Person, group: Group) -> None:
    name = _name(visit.text)
    if name is None:
        await visit.say(words.NOT_A_NAME(visit.speech))
        return
    code, until = new_code(), visit.now + INVITED_FOR
    await members.make_invite(
        visit.tx, group.id, fingerprint(code), uses=1, now=visit.now, until=until, called=name
    )
    await end_jotting(visit.tx, person.id)
    zone = (await plan_of(visit.tx, group.plan_id)).timezone
    link = invite_link(visit.rooms.username, code)
    when = visit.speech.moment(until, zone)
    await visit.say(newcomers.newcomer_link(visit.speech, name, group.name, link, when))


def _name(text: str) -> str | None:
    """What was written as a name; None if it can't be one."""
    name = " ".join(text.split())
    return name if "\n" not in text.strip() and readable(name) else None


def _tidy_line(line: str) -> str:
    """One line without what can't be shown; it may be longer than a name."""
    return " ".join(filter(None, map(_tidy_word, line.split())))


def _tidy_word(word: str) -> str:
    parts = range(0, len(word), LONGEST_NAME)
    return "".join(tidy(word[at : at + LONGEST_NAME]) for at in parts)


async def _card(visit: Visit, group: Group, person_id: str | None) -> Card | None:
    entry = await stored.entry(visit.tx, group.id, person_id or "", visit.now)
    if entry is None:
        return None
    return await card_of(visit.tx, group, entry, visit.speech, visit.now)
