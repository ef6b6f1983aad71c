"""A tap in the group's chat: kept for that member, answered to them alone."""

from datetime import timedelta

from bot.buttons import TapButton
from bot.chat.visit import Visit
from bot.desk.answering import keep
from bot.desk.prompts import Screen, prompt_for
from bot.luck import fingerprint, new_code
from bot.storage import group_chats, groups, members, sessions
from bot.storage import shared_questions as shared
from bot.storage.groups import Group
from bot.storage.people import Person
from bot.storage.sessions import Session
from bot.storage.shared_questions import SharedQuestion
from bot.words import group_chat as words
from bot.words import toasts
from bot.words.groups import invite_link
from core.questions import ABSENT, SESSION, Said

INVITE_LASTS = timedelta(days=1)


async def tap(visit: Visit) -> None:
    """Whatever number it is, only this person hears of it."""
    button = TapButton.read(visit.data)
    question = None if button is None else await shared.question(visit.tx, button.id)
    if button is None or question is None:
        visit.toast = toasts.OUTDATED
        return
    session = await sessions.session(visit.tx, question.session_id)
    group = await groups.group(visit.tx, session.group_id)
    following = await sessions.session_after(visit.tx, session)
    over = following is not None and visit.now >= following.starts_at
    if over or session.cancelled:
        visit.toast = toasts.CLOSED
    elif visit.person is not None and await _takes_part(visit, visit.person, group):
        await _keep(visit, visit.person, session, button.number)
    elif visit.person is not None and await groups.leads(visit.tx, visit.person, group.id):
        visit.toast = words.YOU_LEAD
    else:
        await _invite(visit, question, group)


async def _keep(visit: Visit, person: Person, session: Session, number: int | None) -> None:
    opened = await prompt_for(visit.tx, session, person, visit.now)
    said = (
        Said(word=ABSENT, at=visit.now)
        if number is None
        else Said(number=float(number), at=visit.now)
    )
    screen = Screen(reason=str(visit.update_id))
    following = await keep(visit.tx, opened, {SESSION: said}, screen, visit.update_id, visit.now)
    visit.toast = words.tapped(visit.speech, number, more=following is not None)


async def _takes_part(visit: Visit, person: Person, group: Group) -> bool:
    return group.id in {each.id for each in await members.groups_of(visit.tx, person)}


async def _invite(visit: Visit, question: SharedQuestion, group: Group) -> None:
    """Lead whoever isn't on the roster to the terms, by a link that works once; keep nothing."""
    may_ask = await _is_at_home(visit, group)
    if not may_ask or not await shared.take_invite(visit.tx, question.id):
        visit.toast = words.ASK_FOR_LINK
        return
    code, until = new_code(), visit.now + INVITE_LASTS
    await members.make_invite(
        visit.tx, group.id, fingerprint(code), uses=1, now=visit.now, until=until
    )
    visit.opens = invite_link(visit.rooms.username, code)


async def _is_at_home(visit: Visit, group: Group) -> bool:
    """Being in the class's chat is what lets them ask; where anybody can look in, it is nothing."""
    chat, place = await group_chats.chat_of(visit.tx, group), visit.place
    return (
        chat is not None and place is not None and chat.chat == place.chat and not place.is_public
    )
