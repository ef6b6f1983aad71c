"""Something was written that is no command: it answers whatever is on screen."""

from bot.chat import answer, pause
from bot.chat.visit import Visit
from bot.storage.dialogues import typing_answers


async def typed(visit: Visit) -> None:
    """The newest question decides; the database remembers which that is."""
    dialogue = None if visit.person is None else await typing_answers(visit.tx, visit.person.id)
    if dialogue is None or visit.person is None:
        await answer.typed(visit)
        return
    await pause.typed(visit, visit.person, dialogue)
