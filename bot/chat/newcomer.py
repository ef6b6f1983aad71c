"""Invite somebody by name, look at an invitation that waits, and take it back."""

from bot.buttons.people import Lead, LeadButton
from bot.chat.leading import led_group
from bot.chat.visit import Visit
from bot.desk.calendar import plan_of
from bot.desk.roster import roster_of
from bot.storage import roster as stored
from bot.storage.dialogues import stop_typing
from bot.storage.groups import Group
from bot.storage.jottings import Jotting, JottingKind, begin_jotting
from bot.timetable import local
from bot.words import leading as lead_words
from bot.words import newcomers as words
from bot.words import toasts
from bot.words.roster import roster_message


async def press(visit: Visit, button: LeadButton) -> None:
    """`button.id` is the group's, `button.about` the invitation's."""
    group = await led_group(visit, button.id)
    if group is None or visit.person is None:
        visit.toast = toasts.NOT_YOURS
        return
    await stop_typing(visit.tx, visit.person.id)
    if button.lead is Lead.NEWCOMER:
        jotting = Jotting(kind=JottingKind.INVITE, group_id=group.id, about=None)
        await begin_jotting(visit.tx, visit.person.id, jotting, visit.now)
        await visit.replace(words.ask_newcomer(visit.speech, group.id, group.name))
    elif button.lead is Lead.INVITED:
        await _look(visit, group, button.about or "")
    else:
        await _take_back(visit, group, button.about or "")


async def _look(visit: Visit, group: Group, invite_id: str) -> None:
    waiting = await stored.invited(visit.tx, group.id, visit.now)
    invited = next((each for each in waiting if each.id == invite_id), None)
    if invited is None:
        visit.toast = toasts.OUTDATED
        return
    zone = (await plan_of(visit.tx, group.plan_id)).timezone
    day = visit.speech.day(local(invited.made_at, zone).date())
    await visit.replace(
        words.invited_card(visit.speech, group.id, group.name, invited.id, invited.called, day)
    )


async def _take_back(visit: Visit, group: Group, invite_id: str) -> None:
    """A new link is one tap and a name away."""
    taken = await stored.take_back_invite(visit.tx, group.id, invite_id, visit.now)
    visit.toast = toasts.OUTDATED if taken is None else lead_words.TAKEN_BACK
    roster = await roster_of(visit.tx, group, visit.now)
    await visit.replace(roster_message(visit.speech, roster, 0))
