"""/cancel: leave whatever is open, unchanged."""

from bot.chat.answer import leave_open
from bot.chat.visit import Visit
from bot.storage.dialogues import end_dialogues
from bot.words import help as words


async def cancel(visit: Visit) -> None:
    """The question after class stays open for later; any other question is dropped."""
    person = visit.person
    dropped = person is not None and await end_dialogues(visit.tx, person.id)
    left = person is not None and await leave_open(visit, person)
    if left:
        await visit.say(words.CANCELLED(visit.speech))
    elif dropped:
        await visit.say(words.DROPPED(visit.speech))
    else:
        await visit.say(words.NOTHING_TO_CANCEL(visit.speech))
