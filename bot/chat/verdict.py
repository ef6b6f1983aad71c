"""Too hard or too easy today: two taps under what a member does in a class that is on."""

from bot.buttons import VerdictButton
from bot.chat.visit import Visit
from bot.desk.advice import told
from bot.desk.alerts import watch_member
from bot.desk.calendar import plan_of
from bot.desk.own_class import own_class
from bot.storage import groups, members, sessions, verdicts
from bot.storage.people import Person
from bot.storage.sessions import Session
from bot.words import toasts
from bot.words import variant as words
from core.plan import PlanLine
from core.verdict import Verdict


async def press(visit: Visit) -> None:
    """Which movement it is about, or, once that is said, keep it and say the other way."""
    button, person = VerdictButton.read(visit.data), visit.person
    session = None if button is None else await sessions.find_session(visit.tx, button.session)
    if button is None or session is None or person is None or not await _takes_part(visit, session):
        visit.toast = toasts.NOT_YOURS
    elif visit.now >= session.ends_at or session.cancelled:
        visit.toast = toasts.CLOSED  # from now on the questions after class ask for it
        await visit.replace(words.CLASS_OVER(visit.speech))
    elif button.verdict is None:
        await _show(visit, person, session, button.place)
    elif button.place is None:
        plan = await plan_of(visit.tx, session.plan_id)
        await visit.replace(words.which_movement(visit.speech, plan.plan, button))
    else:
        await _keep(visit, person, session, button.verdict, button.place)


async def _keep(
    visit: Visit, person: Person, session: Session, verdict: Verdict, place: int
) -> None:
    line = await _line(visit, session, place)
    if line is None:
        visit.toast = toasts.OUTDATED
        return
    suggestions = await told(visit.tx, session, person)
    mine = next((each for each in suggestions if each.movement == line.movement.name), None)
    dose = line.dose if mine is None else mine.dose
    await verdicts.put_verdict(
        visit.tx, session.id, person.id, line.movement.name, dose, verdict, visit.now
    )
    await watch_member(visit.tx, session.group_id, person, str(visit.update_id), visit.now)
    visit.toast = toasts.NOTED
    button = VerdictButton(session.id, verdict, place)
    await visit.replace(words.verdict_noted(visit.speech, line, mine, button))


async def _show(visit: Visit, person: Person, session: Session, place: int | None) -> None:
    """The class once more, without what was said of the movement at that place, if any is."""
    line = None if place is None else await _line(visit, session, place)
    if line is not None:
        await verdicts.drop_verdict(visit.tx, session.id, person.id, line.movement.name)
        await watch_member(visit.tx, session.group_id, person, str(visit.update_id), visit.now)
        visit.toast = toasts.TAKEN_BACK
    group = await groups.group(visit.tx, session.group_id)
    await visit.replace(await own_class(visit.tx, person, group, session, visit.now))


async def _line(visit: Visit, session: Session, place: int) -> PlanLine | None:
    lines = (await plan_of(visit.tx, session.plan_id)).plan.lines
    return lines[place] if place < len(lines) else None


async def _takes_part(visit: Visit, session: Session) -> bool:
    if visit.person is None:
        return False
    mine = await members.groups_of(visit.tx, visit.person)
    return session.group_id in {group.id for group in mine}
