"""Alerts: found in what was said, raised once per cause, and told to the instructors."""

from collections.abc import Callable, Iterable
from datetime import datetime, timedelta
from functools import partial

from bot.desk.calendar import is_night, plan_of
from bot.desk.letters import Errand, change, say
from bot.desk.substitutes import warn_substitutes
from bot.planfile import PlanFile
from bot.storage import alerts, groups, symptoms
from bot.storage.advice import forget_advice
from bot.storage.alerts import StoredAlert
from bot.storage.asked import classes_asked_about
from bot.storage.database import Transaction
from bot.storage.history import reports_of_group
from bot.storage.members import members
from bot.storage.names import name_row
from bot.storage.outbox import Kind, Priority
from bot.storage.people import Person, people_by_id
from bot.storage.sessions import Session
from bot.storage.symptoms import StoredSymptom
from bot.storage.thresholds import thresholds_of
from bot.timetable import local
from bot.words.alerts import REPEATED, Handled, alert_message
from bot.words.message import Message
from bot.words.speech import speech_for
from core.alert import OF_SYMPTOMS, Alert
from core.questions import HURT, WHERE, Answers
from core.reports import Reports, Settled, Symptom, SymptomKind
from core.rules import REMINDER_AFTER
from core.watching import Watch, watch

REPEAT_USEFUL = timedelta(days=1)
"""How long after an alert it still helps to hear of it once more; the digest has it anyway."""
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
    found = await _found(tx, group_id, reports, now, person.id)
    await _settle(tx, group_id, found, reason, now, person.id)


async def watch_group(
    tx: Transaction, group_id: str, reports: Settled, reason: str, now: datetime
) -> None:
    """The same for everybody, where time has passed: silence is found in no answer.

    `reports` are all that was ever said in the group.
    """
    recent = reports.since((now - LOOKS_BACK).date())
    present = {each.id for each in await members(tx, group_id)}
    found = [e for e in await _found(tx, group_id, recent, now) if e.member in present]
    await _settle(tx, group_id, found, reason, now)


async def _found(
    tx: Transaction, group_id: str, reports: Reports, now: datetime, member: str | None = None
) -> tuple[Alert, ...]:
    plan = await _plan(tx, group_id)
    how = Watch(
        target=plan.plan.target,
        thresholds=await thresholds_of(tx, group_id),
        # who was asked this evening may still answer
        asked=await classes_asked_about(
            tx, group_id, member, since=now - LOOKS_BACK, until=now - REMINDER_AFTER
        ),
        on=local(now, plan.timezone).date(),
    )
    return watch(reports, how)


async def _settle(
    tx: Transaction,
    group_id: str,
    found: Iterable[Alert],
    reason: str,
    now: datetime,
    member: str | None = None,
) -> None:
    """Raise what is new, tell what is urgent, and end what no longer holds."""
    by_id = {alerts.alert_id(group_id, each): each for each in found}
    symptom_ids: dict[Symptom, str] = {}
    if any(alert.symptom is not None for alert in by_id.values()):
        stored = await symptoms.symptoms_of_group(tx, group_id, member)
        symptom_ids = {each.fact: each.id for each in stored}
    for alert_id, alert in by_id.items():
        symptom_id = None if alert.symptom is None else symptom_ids[alert.symptom]
        if await alerts.raise_alert(tx, group_id, alert, symptom_id, now) and alert.urgent:
            await show_alert(tx, alert_id, reason, now)
    for old in await alerts.unresolved_alerts(tx, group_id, member):
        if old.id not in by_id:
            await alerts.resolve(tx, old.id, now)
            await show_alert(tx, old.id, reason, now)


async def show_alert(tx: Transaction, alert_id: str, reason: str, now: datetime) -> None:
    """Send an urgent alert to every instructor; whatever was sent says how it stands now."""
    stored = await alerts.alert(tx, alert_id)
    if stored is None:
        return
    await warn_substitutes(tx, stored, now)
    tell = await teller(tx, stored)
    for leader in await groups.leaders(tx, stored.group_id):
        speech = speech_for(leader.language)
        message = tell(speech)
        letter = letter_of(stored, leader)
        errand = Errand(
            id=letter,
            priority=Priority.URGENT,
            kind=Kind.ALERT,
            if_repeated=speech.text(REPEATED),
        )
        new = stored.fact.urgent and await say(tx, leader.account, message, errand, now)
        for told in () if new else await alerts.letters(tx, letter):
            edit = Errand(id=f"{told}/{reason}", priority=Priority.URGENT, kind=Kind.ALERT)
            await change(tx, leader.account, message, edit, now, letter=told)


async def teller(tx: Transaction, stored: StoredAlert) -> Callable[..., Message]:
    """How to say this alert, as it stands, to whoever speaks whatever language."""
    group = await groups.group(tx, stored.group_id)
    known = await people_by_id(tx, stored.group_id)

    def name(person_id: str | None) -> str | None:
        return known[person_id].name if person_id in known else None

    handled = Handled(
        seen_by=name(stored.acknowledged_by),
        cleared_by=name(stored.cleared_by),
        cleared=stored.cleared_at is not None,
        note=stored.note,
        over=stored.resolved_at is not None,
    )
    return partial(
        alert_message,
        alert=stored.fact,
        id=stored.id,
        name=known[stored.fact.member].name,
        group=group.name,
        symptom=stored.symptom_id,
        handled=handled,
    )


async def repeat_alert(tx: Transaction, stored: StoredAlert, now: datetime) -> None:
    """Say an urgent alert once more, unless somebody has seen it; at night only what can't wait."""
    late = now - stored.raised_at > REPEAT_USEFUL
    if late or stored.acknowledged_at is not None or not stored.open:
        await alerts.repeat_at(tx, stored.id, None)
        return
    zone = (await _plan(tx, stored.group_id)).timezone
    if stored.fact.kind not in OF_SYMPTOMS and is_night(now, zone):
        return  # it stays due, so the morning will do it
    tell = await teller(tx, stored)
    for leader in await groups.leaders(tx, stored.group_id):
        errand = Errand(
            id=f"{letter_of(stored, leader)}/again", priority=Priority.URGENT, kind=Kind.ALERT
        )
        await say(tx, leader.account, tell(speech_for(leader.language), again=True), errand, now)
    await alerts.repeat_at(tx, stored.id, None)


def letter_of(stored: StoredAlert, leader: Person) -> str:
    """The letter that first tells an instructor of an alert; later ones begin with the same."""
    return f"alert/{stored.id}/{leader.id}"


async def _plan(tx: Transaction, group_id: str) -> PlanFile:
    return await plan_of(tx, (await groups.group(tx, group_id)).plan_id)
