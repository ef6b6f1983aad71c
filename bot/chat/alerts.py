"""Alerts: an instructor sees and clears them, and both sides clear a symptom."""

from bot.buttons import AlertsButton, ClearButton, DealButton, SeenButton, WellAgainButton
from bot.buttons.watching import Dealing
from bot.chat.visit import Visit
from bot.desk.alerts import letter_of, show_alert, teller, watch_member
from bot.storage import alerts, groups, notings, people, symptoms
from bot.storage.advice import forget_advice
from bot.storage.alerts import StoredAlert
from bot.storage.people import Person
from bot.storage.symptoms import StoredSymptom
from bot.words import alerts as said
from bot.words import clearing as words
from bot.words import toasts
from bot.words.speech import speech_for
from core.alert import OF_SYMPTOMS


async def seen(visit: Visit) -> None:
    """An instructor has seen an alert."""
    button = SeenButton.read(visit.data)
    alert = None if button is None else await alerts.alert(visit.tx, button.id)
    if alert is None or not await _leads(visit, alert.group_id):
        visit.toast = toasts.NOT_YOURS
        return
    if visit.person is None or alert.acknowledged_at is not None:
        visit.toast = toasts.ALREADY_SEEN
        return
    await alerts.acknowledge(visit.tx, alert.id, visit.person.id, visit.now)
    visit.toast = toasts.SEEN
    await _show(visit, alert)


async def deal(visit: Visit) -> None:
    """An instructor clears an alert with or without a note, or takes that back."""
    button = DealButton.read(visit.data)
    alert = None if button is None else await alerts.alert(visit.tx, button.id)
    person = visit.person
    if button is None or alert is None or person is None or not await _leads(visit, alert.group_id):
        visit.toast = toasts.NOT_YOURS
        return
    if alert.resolved_at is not None:
        visit.toast = toasts.CLOSED
        return
    match button.what:
        case Dealing.ASK:
            await notings.ask_for_note(visit.tx, person.id, alert.id, visit.now)
            name = (await people.people_by_id(visit.tx, alert.group_id))[alert.fact.member].name
            await visit.say(said.note_question(visit.speech, alert.fact, id=alert.id, name=name))
        case Dealing.PLAIN if alert.fact.kind not in OF_SYMPTOMS:
            await notings.end_noting(visit.tx, person.id)
            await alerts.clear_alert(visit.tx, alert.id, person.id, None, visit.now)
            visit.toast = toasts.NOTED
            await _show(visit, alert)
        case Dealing.UNDO:
            await alerts.open_again(visit.tx, alert.id)
            visit.toast = toasts.NOTED
            await _show(visit, alert)
        case Dealing.PLAIN | Dealing.LEAVE:
            await notings.end_noting(visit.tx, person.id)
            await visit.replace((await teller(visit.tx, alert))(visit.speech))


async def typed_note(visit: Visit, person: Person, alert_id: str) -> None:
    """A note was written: it clears what was found; what was reported takes both sides."""
    alert = await alerts.alert(visit.tx, alert_id)
    note = visit.text.strip()
    if len(note) > said.LONGEST_NOTE:
        await visit.say(said.note_too_long(visit.speech))
        return
    await notings.end_noting(visit.tx, person.id)
    if alert is None or not note or not await _leads(visit, alert.group_id):
        return
    if alert.fact.kind in OF_SYMPTOMS:
        await alerts.put_note(visit.tx, alert.id, note)
    else:
        await alerts.clear_alert(visit.tx, alert.id, person.id, note, visit.now)
    await show_alert(visit.tx, alert.id, str(visit.update_id), visit.now)
    stored = await alerts.alert(visit.tx, alert.id)
    assert stored is not None, "it was there a moment ago"
    await visit.say((await teller(visit.tx, stored))(visit.speech))


async def look_through(visit: Visit) -> None:
    """An instructor looks at a group's open alerts, one after the other."""
    button = AlertsButton.read(visit.data)
    if button is None or not await _leads(visit, button.group):
        visit.toast = toasts.NOT_YOURS
        return
    found = await alerts.open_alerts(visit.tx, button.group)
    if not found:
        group = await groups.group(visit.tx, button.group)
        await visit.say(said.no_alerts(visit.speech, group.name))
        return
    ids = [each.id for each in found]
    at = ids.index(button.after) + 1 if button.after in ids else 0
    chosen = found[at % len(found)]
    following = AlertsButton(button.group, chosen.id) if len(found) > 1 else None
    page = (await teller(visit.tx, chosen))(visit.speech, following=following)
    await (visit.say(page) if button.after is None else visit.replace(page))


async def clear(visit: Visit) -> None:
    """An instructor clears a symptom; the member is asked if they haven't said so already."""
    button = ClearButton.read(visit.data)
    stored = None if button is None else await symptoms.symptom(visit.tx, button.id)
    if stored is None or not await _leads(visit, stored.group_id):
        visit.toast = toasts.NOT_YOURS
        return
    await symptoms.clear_for_instructor(visit.tx, stored.id, visit.now)
    visit.toast = toasts.CLEARED
    member = await _member(visit, stored)
    if stored.fact.cleared_by_instructor is None and stored.fact.cleared_by_member is None:
        await visit.say(
            words.is_it_fine(speech_for(member.language), stored.id, stored.fact.movement),
            to=member,
        )
    elif stored.fact.cleared_by_instructor is None:
        speech = speech_for(member.language)
        await visit.say(words.cleared_by_both(speech, stored.fact.movement), to=member)
    await _settle(visit, stored, member)


async def well_again(visit: Visit) -> None:
    """A member says that a symptom is gone; the instructors are asked unless they cleared it."""
    button = WellAgainButton.read(visit.data)
    stored = None if button is None else await symptoms.symptom(visit.tx, button.id)
    if stored is None or visit.person is None or stored.fact.member != visit.person.id:
        visit.toast = toasts.NOT_YOURS
        return
    await symptoms.clear_for_member(visit.tx, stored.id, visit.now)
    visit.toast = toasts.NOTED
    if stored.fact.cleared_by_member is not None:
        return  # said before: a second tap, or an old button
    if stored.fact.cleared_by_instructor is not None:
        await visit.say(words.RELEASED(visit.speech))
    else:
        await visit.say(words.STILL_HELD(visit.speech))
        known = await people.people_by_id(visit.tx, stored.group_id)
        name = known[visit.person.id].name if visit.person.id in known else visit.person.name
        for leader in await groups.leaders(visit.tx, stored.group_id):
            speech, fact = speech_for(leader.language), stored.fact
            question = words.member_is_well(speech, stored.id, name, fact.movement)
            await visit.say(question, to=leader)
    await _settle(visit, stored, visit.person)


async def _show(visit: Visit, alert: StoredAlert) -> None:
    """Wherever this alert stands, it says how it is now; also where it was looked up."""
    reason = str(visit.update_id)
    await show_alert(visit.tx, alert.id, reason, visit.now)
    if visit.person is None or visit.pressed is None:
        return
    told = await alerts.letters(visit.tx, letter_of(alert, visit.person))
    if await alerts.is_letter(visit.tx, told, visit.pressed):
        return
    stored = await alerts.alert(visit.tx, alert.id)
    assert stored is not None, "it was there a moment ago"
    others = [each for each in await alerts.open_alerts(visit.tx, alert.group_id)
              if each.id != alert.id]  # fmt: skip
    following = AlertsButton(alert.group_id, alert.id) if others else None
    await visit.replace((await teller(visit.tx, stored))(visit.speech, following=following))


async def _settle(visit: Visit, stored: StoredSymptom, member: Person) -> None:
    """Once both have said so, what was frozen may move again, and the alert may be over."""
    after = await symptoms.symptom(visit.tx, stored.id)
    if after is not None and after.fact.cleared_by_member and after.fact.cleared_by_instructor:
        await forget_advice(visit.tx, member.id, visit.now)
    await watch_member(visit.tx, stored.group_id, member, str(visit.update_id), visit.now)


async def _leads(visit: Visit, group_id: str) -> bool:
    return visit.person is not None and await groups.leads(visit.tx, visit.person, group_id)


async def _member(visit: Visit, stored: StoredSymptom) -> Person:
    return (await people.people_by_id(visit.tx, stored.group_id))[stored.fact.member]
