"""Something was written that is no command: it answers whatever is on screen."""

from bot.chat import alerts, answer, pause, timetable_class
from bot.chat.jotting import keep_jotting
from bot.chat.setup_draft import typed_in
from bot.chat.visit import Visit
from bot.storage.class_typings import expected_typing
from bot.storage.dialogues import typing_answers
from bot.storage.drafts import typed_draft
from bot.storage.jottings import jotting_of
from bot.storage.notings import noted_alert


async def typed(visit: Visit) -> None:
    """The newest question decides; the database remembers which that is."""
    noting = None if visit.person is None else await noted_alert(visit.tx, visit.person.id)
    if noting is not None and visit.person is not None:
        await alerts.typed_note(visit, visit.person, noting)
        return
    jotting = None if visit.person is None else await jotting_of(visit.tx, visit.person.id)
    if jotting is not None and visit.person is not None:
        await keep_jotting(visit, visit.person, jotting)
        return
    draft = None if visit.person is None else await typed_draft(visit.tx, visit.person.id)
    if draft is not None and visit.person is not None:
        await typed_in(visit, visit.person, draft)
        return
    expected = None if visit.person is None else await expected_typing(visit.tx, visit.person.id)
    if expected is not None and visit.person is not None:
        await timetable_class.typed(visit, visit.person, expected)
        return
    dialogue = None if visit.person is None else await typing_answers(visit.tx, visit.person.id)
    if dialogue is None or visit.person is None:
        await answer.typed(visit)
        return
    await pause.typed(visit, visit.person, dialogue)
