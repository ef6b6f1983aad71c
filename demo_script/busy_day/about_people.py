"""Was looked after who came late to the group, and who came back to it?"""

from bot.storage import alerts
from core.alert import AlertKind
from core.suggestion import Change
from demo_script.busy_day.day import EVENING, Day
from demo_script.busy_day.people import NEWCOMER, RETURNING
from demo_script.story.finding import Finding, look_up


async def the_newcomer_took_part(day: Day) -> Finding:
    """Joined minutes before the class, was told what to do in it, and answered."""
    group = day.group(EVENING)
    session, joined = await day.session(group), day.notes.joined_at
    told = group.tale.ledger.told.get((day.script.day, NEWCOMER), ())
    given = [each for each in group.tale.ledger.given if each.member == NEWCOMER]
    minutes = (session.starts_at - joined).total_seconds() / 60 if joined else -1.0
    movements = {each.movement for each in told} == set(group.tale.movements)
    return Finding(
        name="who joined by the link just before class took part in all of it",
        holds=0 < minutes < 60 and movements and bool(given),
        evidence=f"{NEWCOMER} joined {minutes:.0f} minutes before, was told {len(told)} doses and "
        f"gave {len(given)} answers",
    )


async def the_break_was_minded(day: Day) -> Finding:
    """Nothing harder in the first class after it, something easier, and the instructor hears."""
    group, week = day.group(EVENING), day.script.day
    tale, people = group.tale, await look_up(group.tale)
    told = tale.ledger.told.get((week, RETURNING), ())
    harder = [each for each in told if each.change is Change.HARDER]
    easier = [each for each in told if each.change is Change.EASIER]
    async with day.theatre.house.database.transaction() as tx:
        stored = await alerts.unresolved_alerts(tx, group.id, people.by_name[RETURNING].id)
    back = [each.fact for each in stored if each.fact.kind is AlertKind.BACK]
    days = ", ".join(f"{each.days_away} days" for each in back)
    return Finding(
        name="who came back after a break got nothing harder, and the instructor was told",
        holds=bool(told) and not harder and bool(easier) and len(back) == 1,
        evidence=f"{RETURNING}: {len(easier)} easier, {len(harder)} harder of {len(told)} doses; "
        f"away for {days or 'no time that was noticed'}",
    )
