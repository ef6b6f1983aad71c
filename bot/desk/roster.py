"""The roster and the cards of a group's members, gathered from everything that is stored."""

from datetime import datetime, timedelta

from bot.desk.calendar import plan_of
from bot.storage import alerts, attendance, notes
from bot.storage import roster as stored
from bot.storage.database import Transaction
from bot.storage.groups import Group
from bot.storage.history import reports_of_group
from bot.storage.roster import Entry
from bot.timetable import local
from bot.words.alerts import sighting_words
from bot.words.person import Card, ClassAnswer, NoteLine
from bot.words.roster import Line, Roster
from bot.words.speech import Speech
from core.reports import Reports
from core.roster import Part

CLASSES_SHOWN = 3
LOOKS_BACK = timedelta(weeks=26)
"""For the last answers on a card; what is older says little about today."""


async def roster_of(tx: Transaction, group: Group, now: datetime) -> Roster:
    """Who takes part, whom a link waits for, and who has left."""
    entries = await stored.roster(tx, group.id, now)
    waiting = await stored.invited(tx, group.id, now)
    last = await attendance.begun_last(tx, group.id, now)
    people = [Line(id=each.person.id, name=each.person.name, part=each.part) for each in entries]
    invited = [Line(id=each.id, name=each.called, part=Part.INVITED) for each in waiting]
    here = [each for each in people if each.part is not Part.LEFT]
    gone = [each for each in people if each.part is Part.LEFT]
    return Roster(
        group_id=group.id,
        group=group.name,
        everyone=(*here, *invited, *gone),
        reading=await stored.reading_terms(tx, group.id),
        session=None if last is None else last.id,
    )


async def card_of(
    tx: Transaction, group: Group, entry: Entry, speech: Speech, now: datetime
) -> Card:
    """What there is to know about one member."""
    zone = (await plan_of(tx, group.plan_id)).timezone
    person = entry.person
    reports = await reports_of_group(
        tx, group.id, member=person.id, since=(now - LOOKS_BACK).date()
    )
    held = await alerts.unresolved_alerts(tx, group.id, person.id)
    written = await notes.notes_about(tx, group.id, person.id)
    return Card(
        group_id=group.id,
        person=person.id,
        name=person.name,
        chat_name=entry.chat_name,
        group=group.name,
        part=entry.part,
        since=local(entry.since, zone).date(),
        until=None if entry.until is None else local(entry.until, zone).date(),
        was_removed=entry.was_removed,
        answers=last_answers(reports),
        alerts=tuple(
            "; ".join(sighting_words(speech, each) for each in alert.fact.evidence)
            for alert in held
        ),
        notes=tuple(
            NoteLine(id=each.id, on=local(each.written_at, zone).date(), text=each.text)
            for each in written
        ),
    )


def last_answers(reports: Reports) -> tuple[ClassAnswer, ...]:
    """What one member said of their last classes, newest first."""
    settled = reports.settled()
    ratings = {each.session: each for each in settled.ratings}
    days = {each.session: each.on for each in settled.bouts}
    days |= {each.session: each.on for each in settled.ratings}
    newest = sorted(days, key=lambda session: (days[session], session), reverse=True)
    return tuple(
        ClassAnswer(
            on=days[session],
            attended=session not in ratings or ratings[session].attended,
            effort=ratings[session].effort if session in ratings else None,
            movements=tuple(
                (each.movement, None if each.unfinished else each.effort)
                for each in settled.bouts
                if each.session == session and (each.unfinished or each.effort is not None)
            ),
        )
        for session in newest[:CLASSES_SHOWN]
    )
