"""Too hard or too easy today: two taps under what a member does in a class that is on."""

from bot.buttons import VerdictButton
from bot.chat.visit import Visit
from bot.desk.advice import told
from bot.desk.alerts import watch_member
from bot.desk.calendar import plan_of
from bot.storage import members, sessions, verdicts
from bot.storage.people import Person
from bot.storage.sessions import Session
from bot.words import toasts
from bot.words import variant as words


async def press(visit: Visit) -> None:
    """Which movement it is about, or, once that is said, keep it and say the other way."""
    button = VerdictButton.read(visit.data)
    session = None if button is None else await sessions.find_session(visit.tx, button.session)
    if button is None or session is None or not await _takes_part(visit, session):
        visit.toast = toasts.NOT_YOURS
    elif visit.now >= session.ends_at or session.cancelled:
        visit.toast = toasts.CLOSED  # from now on the questions after class ask for it
    elif visit.person is not None and button.place is None:
        plan = await plan_of(visit.tx, session.plan_id)
        await visit.replace(words.which_movement(visit.speech, plan.plan, button))
    elif visit.person is not None:
        await _keep(visit, visit.person, session, button)


async def _keep(visit: Visit, person: Person, session: Session, button: VerdictButton) -> None:
    plan = await plan_of(visit.tx, session.plan_id)
    place = button.place or 0
    if place >= len(plan.plan.lines):
        visit.toast = toasts.OUTDATED
        return
    line = plan.plan.lines[place]
    suggestions = await told(visit.tx, session, person)
    mine = next((each for each in suggestions if each.movement == line.movement.name), None)
    dose = line.dose if mine is None else mine.dose
    await verdicts.put_verdict(
        visit.tx, session.id, person.id, line.movement.name, dose, button.verdict, visit.now
    )
    await watch_member(visit.tx, session.group_id, person, str(visit.update_id), visit.now)
    visit.toast = toasts.NOTED
    await visit.replace(words.verdict_noted(visit.speech, line, mine, button))


async def _takes_part(visit: Visit, session: Session) -> bool:
    if visit.person is None:
        return False
    mine = await members.groups_of(visit.tx, visit.person)
    return session.group_id in {group.id for group in mine}
