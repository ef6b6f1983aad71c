"""Where I stand: a newcomer says roughly what they could just do, movement by movement."""

from bot.buttons import EstimateButton
from bot.chat.visit import Visit
from bot.desk.calendar import plan_of
from bot.storage import estimates, groups, members
from bot.storage.groups import Group
from bot.timetable import local
from bot.words import toasts
from bot.words.estimates import estimate_message
from core.guessing import offers
from core.reports import StartingEstimate


async def press(visit: Visit) -> None:
    """Keep what was tapped, if anything was, and ask about the next movement."""
    button = EstimateButton.read(visit.data)
    group = None if button is None else await _mine(visit, button.group)
    if button is None or group is None:
        visit.toast = toasts.NOT_YOURS
        return
    plan = await plan_of(visit.tx, group.plan_id)
    place = button.place
    if button.offer is not None and visit.person is not None and place < len(plan.plan.lines):
        line = plan.plan.lines[place]
        offered = offers(line)
        if button.offer >= len(offered):  # the plan has changed since
            visit.toast = toasts.OUTDATED
            await visit.replace(estimate_message(visit.speech, group.id, plan.plan, place))
            return
        dose = offered[button.offer]
        estimate = StartingEstimate(
            member=visit.person.id,
            movement=line.movement.name,
            on=local(visit.now, plan.timezone).date(),
            amount=dose.amount,
            load=dose.load,
        )
        await estimates.put_estimate(visit.tx, group.id, estimate)
        visit.toast = toasts.NOTED
        place += 1
    await visit.replace(estimate_message(visit.speech, group.id, plan.plan, place))


async def _mine(visit: Visit, group_id: str) -> Group | None:
    if visit.person is None:
        return None
    mine = await members.groups_of(visit.tx, visit.person)
    if group_id not in {each.id for each in mine}:
        return None
    return await groups.group(visit.tx, group_id)
