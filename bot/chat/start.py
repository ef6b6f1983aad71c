"""/start: claim the bot, use an invite, or just say hello."""

from datetime import timedelta

from bot.chat.answer import closed, on_screen
from bot.chat.substitute import entrusted
from bot.chat.visit import Visit
from bot.desk.prompts import repeat
from bot.luck import fingerprint
from bot.storage import members, people
from bot.words import joining as words

LONGEST_CODE = 64
"""Characters that a start link can carry."""
MOST_WRONG_CODES = 5
WITHIN = timedelta(hours=1)
"""So many wrong codes in that time, and even a right one is refused: guessing doesn't pay."""


async def start(visit: Visit) -> None:
    """Whatever comes behind /start decides what it is."""
    _, _, code = visit.text.partition(" ")
    code = code.strip()
    if not code:
        await _greet(visit)
        return
    tries = await people.wrong_codes(visit.tx, visit.account, visit.now - WITHIN)
    may_try = tries < MOST_WRONG_CODES and len(code) <= LONGEST_CODE and code.isprintable()
    if may_try and (
        await _claim(visit, code) or await _invited(visit, code) or await entrusted(visit, code)
    ):
        return
    await people.note_wrong_code(visit.tx, visit.account, visit.update_id, visit.now)
    await visit.say(words.CODE_REFUSED(visit.speech))


async def _greet(visit: Visit) -> None:
    """Say hello, and show again what is still open: who comes from a group chat looks for it."""
    if visit.person is None:
        await visit.say(words.STRANGER(visit.speech))
        return
    await visit.say(words.WELCOME_BACK(visit.speech))
    opened = await on_screen(visit, visit.person)
    if opened is not None and not closed(visit, opened):
        await repeat(visit.tx, opened, str(visit.update_id), visit.now)


async def _claim(visit: Visit, code: str) -> bool:
    if not visit.rooms.is_owner_code(code) or await people.has_owner(visit.tx):
        return False
    person = await people.remember(visit.tx, visit.account, visit.name, visit.language, visit.now)
    await people.claim(visit.tx, person, visit.now)
    visit.new_commands = True
    await visit.say(words.claimed(visit.speech, visit.name))
    return True


async def _invited(visit: Visit, code: str) -> bool:
    invite = fingerprint(code)
    group = await members.invited_to(visit.tx, invite, visit.now)
    if group is None:
        return False
    if visit.person is not None:
        mine = await members.groups_of(visit.tx, visit.person)
        if group.id in {each.id for each in mine}:
            await visit.say(words.already_member(visit.speech, group.name))
            return True
    joining = await members.start_joining(visit.tx, visit.account, group.id, invite, visit.now)
    await visit.say(words.terms(visit.speech, group.name, joining))
    return True
