"""Somebody is asked to lead a group, or one class: they read what it means, and answer."""

from bot.buttons.people import Lead, LeadButton
from bot.chat.visit import Visit
from bot.desk.leading import take_up, when_of
from bot.desk.voice import speech_to
from bot.luck import fingerprint
from bot.storage import entrusting, groups, people
from bot.storage.entrusting import Entrusting
from bot.storage.people import Person
from bot.words import entrusting as words
from bot.words import toasts
from core.roster import Trust


async def entrusted(visit: Visit, code: str) -> bool:
    """Ask whoever opened such a link; false if the code is no such thing, or opens nothing now."""
    link = await entrusting.read_link(visit.tx, fingerprint(code), visit.account, visit.now)
    if link is None:
        return False
    group = await groups.group(visit.tx, link.group_id)
    if visit.person is not None and await groups.leads(visit.tx, visit.person, group.id):
        await entrusting.put_down_link(visit.tx, link.id)
        await visit.say(words.already_leads(visit.speech, group.name))
        return True
    giver = (await people.people_by_id(visit.tx, group.id))[link.given_by]
    await visit.say(
        words.entrusted(
            visit.speech,
            link.trust,
            link=link.id,
            group=group.name,
            by=giver.name,
            when=await when_of(visit.tx, link, visit.speech),
        )
    )
    return True


async def answer(visit: Visit, button: LeadButton) -> None:
    """The press of a button under that question; `button.id` is the link's."""
    link = await entrusting.being_read(visit.tx, button.id, visit.account, visit.now)
    if link is None:
        visit.toast = toasts.OUTDATED
        return
    group = await groups.group(visit.tx, link.group_id)
    if button.lead is Lead.DECLINE:
        await entrusting.put_down_link(visit.tx, link.id)
        await visit.replace(words.declined_to_lead(visit.speech, group.name))
        return
    person = await people.remember(visit.tx, visit.account, visit.name, visit.language, visit.now)
    giver = (await people.people_by_id(visit.tx, group.id))[link.given_by]
    await take_up(visit.tx, link, person, visit.now)
    visit.new_commands = link.trust is not Trust.SESSION
    when = await when_of(visit.tx, link, visit.speech)
    await visit.replace(words.accepted(visit.speech, link.trust, group=group.name, when=when))
    await _tell(visit, link, giver, person, group.name)


async def _tell(visit: Visit, link: Entrusting, giver: Person, person: Person, group: str) -> None:
    """The instructors hear of it; whoever has handed over hears that it is done."""
    name = (await people.as_called(visit.tx, person, link.group_id)).name
    for leader in await groups.leaders(visit.tx, link.group_id):
        if leader.id != person.id:
            speech = speech_to(leader)
            when = await when_of(visit.tx, link, speech)
            news = words.somebody_accepted(speech, link.trust, name=name, group=group, when=when)
            await visit.say(news, to=leader)
    if link.trust is Trust.HANDOVER:
        await visit.say(words.handed_over(speech_to(giver), group, name), to=giver)
