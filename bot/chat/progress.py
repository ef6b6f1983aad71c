"""/progress: how my classes felt, and what I can do now, as a picture and in words."""

from datetime import datetime

from telegram import Update

from bot.chat.visit import Rooms, Visit
from bot.desk.letters import Errand
from bot.desk.progress import Drawn, Facts, draw_progress, progress_facts
from bot.desk.showing import show
from bot.desk.voice import speech_to
from bot.storage import members, people
from bot.storage.database import Transaction
from bot.words import progress as words
from bot.words.joining import STRANGER
from bot.words.message import Message
from bot.words.speech import Speech


async def fetch(rooms: Rooms, update: Update) -> object:
    """The pictures, one for each of this account's groups; nothing for a stranger.

    They are drawn before the transaction of the visit, from what one short one has read.
    """
    account = update.effective_user
    if account is None:
        return ()
    found = await rooms.database.read(lambda tx: _facts(tx, account.id, rooms.now()))
    return tuple([await draw_progress(each, speech) for each, speech in found])


async def _facts(tx: Transaction, account: int, now: datetime) -> list[tuple[Facts, Speech]]:
    person = await people.person_of_account(tx, account)
    if person is None:
        return []
    mine = await members.groups_of(tx, person)
    facts = [await progress_facts(tx, person, group, now) for group in mine]
    return [(each, speech_to(person)) for each in facts]


async def progress(visit: Visit) -> None:
    """What was drawn, for the groups that they are in still."""
    if visit.person is None:
        await visit.say(STRANGER(visit.speech))
        return
    mine = {group.id for group in await members.groups_of(visit.tx, visit.person)}
    if not mine:
        await visit.say(words.NOT_A_MEMBER(visit.speech))
    brought = visit.brought if isinstance(visit.brought, tuple) else ()
    for drawn in brought:
        if drawn.group.id in mine:
            await _tell(visit, drawn)


async def _tell(visit: Visit, drawn: Drawn) -> None:
    group = drawn.group.name
    if not drawn.progress.enough:
        await visit.say(words.too_few(visit.speech, drawn.progress, group=group))
        return
    caption = words.caption(visit.speech, drawn.progress, group=group)
    if drawn.picture is None:
        await visit.say(Message(text=caption))
        return
    errand = Errand(id=f"reply/{visit.update_id}/progress/{drawn.group.id}")
    await show(visit.tx, visit.account, drawn.picture, caption, errand, visit.now)
