"""Who leads a group: invite another instructor, hand it over, find a substitute, leave."""

from datetime import timedelta

from bot.buttons.people import Lead, LeadButton
from bot.chat.leading import led_group
from bot.chat.visit import Visit
from bot.desk.calendar import plan_of
from bot.desk.leading import leading_of, moment_of, new_trust
from bot.desk.voice import speech_to
from bot.storage import entrusting, groups, people, sessions, substitutes
from bot.storage.dialogues import stop_typing
from bot.storage.groups import Group
from bot.storage.people import Person
from bot.words import entrusting as told
from bot.words import leading as words
from bot.words import toasts
from bot.words.groups import invite_link
from core.roster import Trust

CLASSES_SHOWN = 8
"""From which one can be chosen for a substitute."""
SECOND_TAP = timedelta(seconds=10)
"""Within so long the same tap is the same wish: one link, not two that both let somebody lead."""


async def lead(visit: Visit, button: LeadButton) -> None:
    """What an instructor does about who leads; `button.id` is the group's."""
    group = await led_group(visit, button.id)
    if group is None or visit.person is None:
        visit.toast = toasts.NOT_YOURS
        return
    await stop_typing(visit.tx, visit.person.id)
    match button.lead:
        case Lead.SHARE | Lead.HANDED_OVER:
            await _link(visit, visit.person, group, button.lead)
        case Lead.HAND_OVER:
            await visit.replace(words.handover_question(visit.speech, group.id, group.name))
        case Lead.CLASSES:
            await _classes(visit, group)
        case Lead.STAND_IN:
            await _substitute(visit, visit.person, group, button.about or "")
        case Lead.TAKE_BACK:
            await _take_back(visit, group, button.about or "")
        case Lead.END:
            await _end(visit, group, button.about or "")
        case Lead.LEAVE | Lead.LEFT:
            await _leave(visit, visit.person, group, sure=button.lead is Lead.LEFT)
        case _:
            await _show(visit, group)


async def _show(visit: Visit, group: Group) -> None:
    facts = await leading_of(visit.tx, group, visit.speech, visit.now)
    await visit.replace(words.leading_message(visit.speech, facts))


async def _link(visit: Visit, person: Person, group: Group, lead: Lead) -> None:
    """A link as a message of its own, since it is to be passed on."""
    trust = Trust.SHARE if lead is Lead.SHARE else Trust.HANDOVER
    since = visit.now - SECOND_TAP
    if await entrusting.gave_lately(visit.tx, group.id, person.id, trust, since, visit.now):
        visit.toast = toasts.ON_ITS_WAY
        return
    code, until = await new_trust(visit.tx, group, person, trust, visit.now)
    when = visit.speech.moment(until, (await plan_of(visit.tx, group.plan_id)).timezone)
    say = words.share_link if trust is Trust.SHARE else words.handover_link
    link = invite_link(visit.rooms.username, code)
    await visit.say(say(visit.speech, group.name, link, when))
    await _show(visit, group)


async def _classes(visit: Visit, group: Group) -> None:
    coming = await sessions.sessions_from(visit.tx, group.id, visit.now, CLASSES_SHOWN)
    named = [(each.id, await moment_of(visit.tx, each, visit.speech)) for each in coming]
    await visit.replace(words.which_class(visit.speech, group.id, named))


async def _substitute(visit: Visit, person: Person, group: Group, session_id: str) -> None:
    session = await sessions.find_session(visit.tx, session_id)
    is_theirs = session is not None and session.group_id == group.id
    if session is None or not is_theirs or session.cancelled or session.ends_at <= visit.now:
        visit.toast = toasts.OUTDATED
        return
    if await entrusting.gave_lately(
        visit.tx,
        group.id,
        person.id,
        Trust.SESSION,
        visit.now - SECOND_TAP,
        visit.now,
        session.id,
    ):
        visit.toast = toasts.ON_ITS_WAY
        return
    code, _ = await new_trust(visit.tx, group, person, Trust.SESSION, visit.now, session)
    when = await moment_of(visit.tx, session, visit.speech)
    link = invite_link(visit.rooms.username, code)
    await visit.say(words.substitute_link(visit.speech, group.name, when, link))
    await _show(visit, group)


async def _take_back(visit: Visit, group: Group, link_id: str) -> None:
    taken = await entrusting.take_back_link(visit.tx, link_id, group.id, visit.now)
    visit.toast = words.TAKEN_BACK if taken else toasts.OUTDATED
    await _show(visit, group)


async def _end(visit: Visit, group: Group, substitute_id: str) -> None:
    """A new link lets them stand in again."""
    standing_in = await substitutes.substitutes_of_group(visit.tx, group.id, visit.now)
    ended = next((each for each in standing_in if each.id == substitute_id), None)
    if ended is None or not await substitutes.end_substitute(visit.tx, ended.id, group.id):
        visit.toast = toasts.OUTDATED
    else:
        speech = speech_to(ended.person)
        when = await moment_of(visit.tx, ended.session, speech)
        await visit.say(told.no_longer_needed(speech, group.name, when), to=ended.person)
    await _show(visit, group)


async def _leave(visit: Visit, person: Person, group: Group, *, sure: bool) -> None:
    others = [each for each in await groups.leaders(visit.tx, group.id) if each.id != person.id]
    if not others:
        visit.toast = words.ALONE
    elif not sure:
        await visit.replace(words.leave_question(visit.speech, group.id, group.name))
    elif await groups.remove_leader(visit.tx, group.id, person.id):
        await visit.replace(words.left(visit.speech, group.name))
        name = (await people.as_called(visit.tx, person, group.id)).name
        for other in others:
            news = words.somebody_left(speech_to(other), name, group.name)
            await visit.say(news, to=other)
