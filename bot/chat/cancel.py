"""/cancel: leave whatever is open, unchanged."""

from bot.chat.answer import leave_open
from bot.chat.setup_draft import rest
from bot.chat.visit import Visit
from bot.storage.dialogues import end_dialogues
from bot.storage.drafts import typed_draft
from bot.words import help as words


async def cancel(visit: Visit) -> None:
    """What is begun and the question after class stay for later; other questions are dropped."""
    person = visit.person
    draft = None if person is None else await typed_draft(visit.tx, person.id)
    if draft is not None:
        await rest(visit, draft)
        return
    dropped = person is not None and await end_dialogues(visit.tx, person.id)
    left = person is not None and await leave_open(visit, person)
    if left:
        await visit.say(words.CANCELLED(visit.speech))
    elif dropped:
        await visit.say(words.DROPPED(visit.speech))
    else:
        await visit.say(words.NOTHING_TO_CANCEL(visit.speech))
