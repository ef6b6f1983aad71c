"""One class from the instructor's side: its page to print, and demands that follow from it."""

from functools import partial

from bot.buttons import ClassButton
from bot.buttons.watching import AboutClass
from bot.chat.visit import Visit
from bot.desk.handout import send_handout
from bot.desk.substitutes import may_read
from bot.desk.summary import apply_demands, show_summary, summary_now, undo_demands
from bot.storage import groups, sessions
from bot.storage.people import Person
from bot.storage.sessions import Session
from bot.words import toasts


async def press(visit: Visit) -> None:
    """Print, take the offered demands up, or put them back."""
    button, person = ClassButton.read(visit.data), visit.person
    session = None if button is None else await sessions.find_session(visit.tx, button.session)
    if button is None or person is None or session is None:
        visit.toast = toasts.NOT_YOURS
        return
    if button.what is AboutClass.PRINT:
        if not await may_read(visit.tx, session, person, visit.now):
            visit.toast = toasts.NOT_YOURS
            return
        visit.toast = toasts.ON_ITS_WAY
        visit.afterwards = partial(
            send_handout, visit.rooms.database, session, person, str(visit.update_id), visit.now
        )
        return
    if not await groups.leads(visit.tx, person, session.group_id):
        visit.toast = toasts.NOT_YOURS
        return
    await _change(visit, person, session, button.what)


async def _change(visit: Visit, person: Person, session: Session, what: AboutClass) -> None:
    """Old buttons live for ever: what no longer fits the plan changes nothing."""
    reason = f"{session.id}/{visit.update_id}"
    if what is AboutClass.APPLY:
        done = bool(await apply_demands(visit.tx, session, reason, visit.now))
    else:
        done = await undo_demands(visit.tx, session, reason, visit.now)
    visit.toast = toasts.NOTED if done else toasts.OUTDATED
    if done:
        await visit.replace(await summary_now(visit.tx, session, visit.speech))
        await show_summary(visit.tx, session, person, str(visit.update_id), visit.now)
