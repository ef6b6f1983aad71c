"""Did urgent alerts come at once, and again only where nobody had looked?"""

from datetime import timedelta

from bot.storage import alerts
from bot.storage.alerts import StoredAlert
from bot.storage.moments import write_moment
from core.alert import AlertKind
from core.rules import ALERT_AGAIN
from demo_script.busy_day.day import Day, StagedGroup
from demo_script.story.finding import Finding
from demo_script.story.witness import Sight

AT_ONCE = timedelta(minutes=1)
LATE = timedelta(minutes=6)
"""How long after it is due it may come again: the bot looks every five minutes."""


async def urgent_came_at_once(day: Day) -> Finding:
    """Once to every instructor of the group and to nobody else; twice if nobody looked."""
    stored = await _urgent(day)
    wrong, again = [], 0
    for alert in stored:
        group = next(each for each in day.groups if each.id == alert.group_id)
        twice = _nobody_looked(alert)
        again += twice
        wrong += _wrong(day, alert, group, twice=twice)
    kinds = {each.fact.kind for each in stored}
    both = {AlertKind.PAIN, AlertKind.WARNING} <= kinds and 0 < again < len(stored)
    return Finding(
        name="urgent alerts came at once to the group's instructors, and again if none had looked",
        holds=not wrong and both,
        evidence="; ".join(wrong)
        or f"{len(stored)} urgent ({', '.join(sorted(kinds))}): {again} of them again after "
        f"{ALERT_AGAIN.total_seconds() / 60:.0f} minutes, {len(stored) - again} seen before that",
    )


async def _urgent(day: Day) -> list[StoredAlert]:
    assert day.began is not None, "the day is over"
    async with day.theatre.house.database.transaction() as tx:
        rows = await tx.all(
            "SELECT id FROM alert WHERE raised_at >= :began ORDER BY raised_at, id",
            began=write_moment(day.began),
        )
        found = [await alerts.alert(tx, row["id"]) for row in rows]
    return [each for each in found if each is not None and each.fact.urgent]


def _nobody_looked(alert: StoredAlert) -> bool:
    due = alert.raised_at + ALERT_AGAIN
    ends = (alert.acknowledged_at, alert.resolved_at, alert.cleared_at)
    return not any(each is not None and each < due for each in ends)


def _wrong(day: Day, alert: StoredAlert, group: StagedGroup, *, twice: bool) -> list[str]:
    """What isn't as it should be about one alert."""
    told: dict[int, list[Sight]] = {}
    for sight in day.witness.sights:
        if sight.kind == "message" and alert.id in sight.alerts:
            told.setdefault(sight.chat_id, []).append(sight)
    readers = {leader.person_id: leader.name for leader in group.leaders}
    strange = told.keys() - readers.keys()
    wrong = [f"{alert.fact.kind} was told in chat {each}" for each in strange]
    for chat, name in readers.items():
        waits = [sight.at - alert.raised_at for sight in told.get(chat, [])]
        first, *more = waits or [timedelta.max]
        in_time = all(ALERT_AGAIN <= each < ALERT_AGAIN + LATE for each in more)
        if first > AT_ONCE or len(more) != twice or not in_time:
            minutes = ", ".join(f"{each.total_seconds() / 60:.0f}" for each in waits) or "never"
            wrong.append(f"{alert.fact.kind} to {name} after minutes: {minutes}")
    return wrong
