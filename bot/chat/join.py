"""Agree to the terms and join a group, or don't."""

from bot.buttons import JoinButton
from bot.chat.visit import Visit
from bot.desk.calendar import plan_of
from bot.storage import groups, members, people, sessions
from bot.storage.groups import Group
from bot.words import joining as words
from bot.words import toasts
from bot.words.groups import member_joined
from bot.words.speech import speech_for


async def answer_terms(visit: Visit) -> None:
    """The press of a button under the terms."""
    button = JoinButton.read(visit.data)
    joining = (
        None if button is None else await members.joining_of(visit.tx, button.id, visit.account)
    )
    if button is None or joining is None:
        visit.toast = toasts.OUTDATED
        if button is not None:
            await _answered_before(visit, button.id)
        return
    group = await groups.group(visit.tx, joining.group_id)
    await members.end_joining(visit.tx, joining.id)
    if not button.yes:
        await visit.replace(words.declined(visit.speech, group.name))
        return
    if await members.invited_to(visit.tx, joining.invite, visit.now) is None:
        await visit.replace(words.CODE_REFUSED(visit.speech))
        return
    person = await people.remember(visit.tx, visit.account, visit.name, visit.language, visit.now)
    await members.join(visit.tx, person, joining, visit.now)
    await _show_joined(visit, group)
    count = len(await members.members(visit.tx, group.id))
    name = (await people.as_called(visit.tx, person, group.id)).name
    for leader in await groups.leaders(visit.tx, group.id):
        news = member_joined(speech_for(leader.language), name, group.name, count)
        await visit.say(news, to=leader)


async def _answered_before(visit: Visit, joining_id: str) -> None:
    """Answered on another device, tapped twice, or too long ago: what holds now."""
    asked = [
        group
        for group in await groups.all_groups(visit.tx)
        if members.name_joining(visit.account, group.id) == joining_id
    ]
    mine = () if visit.person is None else await members.groups_of(visit.tx, visit.person)
    for group in asked:  # one, or none where it wasn't this account that was asked
        if group.id in {each.id for each in mine}:
            await _show_joined(visit, group)
        else:
            await visit.replace(words.NOT_JOINED(visit.speech))


async def _show_joined(visit: Visit, group: Group) -> None:
    session = await sessions.next_session(visit.tx, group.id, visit.now)
    plan = await plan_of(visit.tx, group.plan_id)
    when = None if session is None else visit.speech.moment(session.starts_at, plan.timezone)
    await visit.replace(words.joined(visit.speech, group.id, group.name, when))
