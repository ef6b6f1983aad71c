"""Alerts: an instructor has seen one, and both sides clear a symptom."""

from bot.buttons import ClearButton, SeenButton, WellAgainButton
from bot.chat.visit import Visit
from bot.desk.alerts import show_alert, watch_member
from bot.storage import alerts, groups, people, symptoms
from bot.storage.advice import forget_advice
from bot.storage.people import Person
from bot.storage.symptoms import StoredSymptom
from bot.words import clearing as words
from bot.words import toasts
from bot.words.speech import speech_for


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
    await show_alert(visit.tx, alert.id, str(visit.update_id), visit.now)


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
    if stored.fact.cleared_by_instructor is not None:
        await visit.say(words.RELEASED(visit.speech))
    elif stored.fact.cleared_by_member is None:
        await visit.say(words.STILL_HELD(visit.speech))
        for leader in await groups.leaders(visit.tx, stored.group_id):
            speech, fact = speech_for(leader.language), stored.fact
            question = words.member_is_well(speech, stored.id, visit.person.name, fact.movement)
            await visit.say(question, to=leader)
    await _settle(visit, stored, visit.person)


async def _settle(visit: Visit, stored: StoredSymptom, member: Person) -> None:
    """What was frozen may move again, and the alert may be over."""
    await forget_advice(visit.tx, member.id, visit.now)
    await watch_member(visit.tx, stored.group_id, member, str(visit.update_id), visit.now)


async def _leads(visit: Visit, group_id: str) -> bool:
    return visit.person is not None and await groups.leads(visit.tx, visit.person, group_id)


async def _member(visit: Visit, stored: StoredSymptom) -> Person:
    return (await people.people_by_id(visit.tx, stored.group_id))[stored.fact.member]
