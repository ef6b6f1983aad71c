"""Did what the instructors changed take hold: a moved class, better demands, the files?"""

import json
from datetime import timedelta

from bot.errors import BadInput
from bot.planfile import read_plan_file
from bot.planfile.value import PlanFile
from core.demands import DemandChange, with_demands
from demo_script.busy_day.about_digests import digest_due, in_minute
from demo_script.busy_day.day import EVENING, Day
from demo_script.busy_day.reading_back import as_the_files_say
from demo_script.story.finding import Finding

HOUR = timedelta(hours=1)


async def the_class_was_moved(day: Day) -> Finding:
    """The members heard of it once, and nothing came at the hour at which it would have been."""
    group, notes = day.group(EVENING), day.notes
    session = await day.session(group)
    told = [
        name
        for name in sorted(notes.told_of_move)
        for sight in day.witness.by(group.tale.actor(name).account, "message")
        if notes.moved_at is not None
        and in_minute(sight, notes.moved_at)
        and group.name in sight.text
    ]
    prompt = session.ends_at + timedelta(minutes=group.tale.plan.prompt_after)
    old = [
        sight
        for sight in day.witness.sights
        if sight.kind == "message"
        and (
            (session.id in sight.classes and in_minute(sight, digest_due(group, session) + HOUR))
            or (sight.asks and in_minute(sight, prompt + HOUR))
        )
    ]
    held = notes.moved_from is not None and session.starts_at == notes.moved_from - HOUR
    everybody = told == sorted(notes.told_of_move) != []
    return Finding(
        name="the class that was moved took place an hour earlier, with everything around it",
        holds=held and everybody and not old,
        evidence=f"moved: {held}; {len(told)} of {len(notes.told_of_move)} members told; "
        f"{len(old)} messages at the hours that were due before",
    )


async def demands_were_taken_over(day: Day) -> Finding:
    """One tap changed the demands that were offered, in one group, and nothing else."""
    before, after = day.notes.plans_before, day.notes.plans_after
    changed = [each for each in after if after[each] != before.get(each)]
    async with day.theatre.house.database.transaction() as tx:
        rows = await tx.all(
            "SELECT group_id, demands FROM summary JOIN session ON session.id = session_id"
            " WHERE applied_at IS NOT NULL"
        )
    offered = {row["group_id"]: json.loads(row["demands"]) for row in rows}
    holds = len(changed) == 1 and changed == list(offered)
    words = "nothing was taken over"
    for group_id in changed if holds else ():
        changes = tuple(DemandChange(**each) for each in offered[group_id])
        old, new = _plan(before[group_id]), _plan(after[group_id])
        holds = new.plan == with_demands(old.plan, changes) and new.plan != old.plan
        words = ", ".join(
            f"{e.movement}, {e.variation}: {e.believed:g} in place of {e.written:g}"
            for e in changes
        )
    return Finding(
        name="the demands that were offered were taken over by one tap, in that group alone",
        holds=holds,
        evidence=f"{words}; {len(changed)} of {len(day.groups)} plans changed",
    )


async def the_export_reads_back(day: Day) -> Finding:
    """Without the bot the files give what the bot itself would have said."""
    notes, wrong, count = day.notes, "", 0
    try:
        assert notes.next_day is not None, "it was exported"
        theirs = json.loads(as_the_files_say(notes.exported, notes.next_day))
        ours = json.loads(notes.would_suggest)
        for options in (theirs["options"], ours["options"]):
            for each in options:
                each["members"].sort()
        count = len(ours["suggestions"])
        for part in ("suggestions", "options", "ask"):
            wrong = wrong or ("" if theirs[part] == ours[part] else f"{part} differ")
    except (BadInput, KeyError, ValueError) as problem:
        wrong = f"can't be read: {type(problem).__name__}"
    sizes = ", ".join(f"{name} {len(text)} bytes" for name, text in notes.exported.items())
    return Finding(
        name="the export reads back offline with the same suggestions",
        holds=not wrong and count > 0,
        evidence=wrong or f"{count} suggestions, the same with all reasons and options; {sizes}",
    )


def _plan(document: str) -> PlanFile:
    return read_plan_file(document, "stored plan")
