"""Alerts: found in what was said, raised once per cause, and told to the instructors."""

from datetime import datetime, timedelta
from functools import partial

from bot.desk.letters import Errand, change, say
from bot.storage import alerts, groups, symptoms
from bot.storage.advice import forget_advice
from bot.storage.database import Transaction
from bot.storage.history import reports_of_group
from bot.storage.names import name_row
from bot.storage.outbox import Kind, Priority
from bot.storage.people import Person, people_by_id
from bot.storage.sessions import Session
from bot.storage.symptoms import StoredSymptom
from bot.words.alerts import REPEATED, alert_message
from bot.words.speech import speech_for
from core.questions import HURT, WHERE, Answers
from core.reports import Symptom, SymptomKind
from core.watching import watch

LOOKS_BACK = timedelta(weeks=26)
"""How much of a member's history is watched after each answer."""


async def note_symptom(
    tx: Transaction,
    session: Session,
    person: Person,
    answers: Answers,
    movements: tuple[str, ...],
    now: datetime,
) -> None:
    """Keep what is stored of symptoms in step with what a prompt says; `movements` as planned."""
    symptom_id = name_row("symptom", session.id, person.id)
    said, where = answers.get(str(HURT)), answers.get(str(WHERE))
    if said is None or said.word not in tuple(SymptomKind):
        await symptoms.withdraw_symptom(tx, symptom_id, now)
        await forget_advice(tx, person.id, now)
        return
    during = None if where is None or where.number is None else movements[int(where.number)]
    fact = Symptom(
        member=person.id,
        kind=SymptomKind(said.word),
        on=session.local_day,
        said_at=said.at,
        session=session.id,
        movement=during if said.word == SymptomKind.PAIN else None,
    )
    stored = StoredSymptom(id=symptom_id, group_id=session.group_id, fact=fact)
    await keep_symptom(tx, stored, now)


async def keep_symptom(tx: Transaction, stored: StoredSymptom, now: datetime) -> None:
    """Keep what was reported, anew if it is known; from now on it counts in what they are told."""
    await symptoms.put_symptom(tx, stored)
    await forget_advice(tx, stored.fact.member, now)


async def watch_member(
    tx: Transaction, group_id: str, person: Person, reason: str, now: datetime
) -> None:
    """Raise what this member's history now says, and end what it no longer says.

    `reason` names what they did, so that doing it over changes nothing.
    """
    since = (now - LOOKS_BACK).date()
    reports = await reports_of_group(tx, group_id, member=person.id, since=since)
    stored = await symptoms.symptoms_of_group(tx, group_id, person.id)
    symptom_ids = {each.fact: each.id for each in stored}
    found = {alerts.alert_id(group_id, each): each for each in watch(reports)}
    for alert in found.values():
        symptom_id = None if alert.symptom is None else symptom_ids[alert.symptom]
        if await alerts.raise_alert(tx, group_id, alert, symptom_id, now):
            await show_alert(tx, alerts.alert_id(group_id, alert), reason, now)
    for old in await alerts.unresolved_alerts(tx, group_id, person.id):
        if old.id not in found:
            await alerts.resolve(tx, old.id, now)
            await show_alert(tx, old.id, reason, now)


async def show_alert(tx: Transaction, alert_id: str, reason: str, now: datetime) -> None:
    """Send an alert to every instructor of the group; if it was sent, change what it says."""
    stored = await alerts.alert(tx, alert_id)
    if stored is None:
        return
    group = await groups.group(tx, stored.group_id)
    known = await people_by_id(tx, stored.group_id)
    tell = partial(
        alert_message,
        alert=stored.fact,
        id=stored.id,
        name=known[stored.fact.member].name,
        group=group.name,
        symptom=stored.symptom_id,
        seen_by=known[stored.acknowledged_by].name if stored.acknowledged_by else None,
        over=stored.resolved_at is not None,
    )
    for leader in await groups.leaders(tx, stored.group_id):
        speech = speech_for(leader.language)
        message = tell(speech)
        letter = f"alert/{stored.id}/{leader.id}"
        errand = Errand(
            id=letter,
            priority=Priority.URGENT,
            kind=Kind.ALERT,
            if_repeated=speech.text(REPEATED),
        )
        if not await say(tx, leader.account, message, errand, now):
            edit = Errand(id=f"{letter}/{reason}", priority=Priority.URGENT, kind=Kind.ALERT)
            await change(tx, leader.account, message, edit, now, letter=letter)
