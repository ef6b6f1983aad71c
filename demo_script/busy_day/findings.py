"""Whether the day came true: each finding with its evidence."""

from collections.abc import Awaitable, Callable

from demo_script.busy_day import (
    about_asking,
    about_changes,
    about_digests,
    about_people,
    about_sight,
    about_urgent,
)
from demo_script.busy_day.day import MORNING, Day
from demo_script.story.about_privacy import strangers_were_refused
from demo_script.story.about_service import limits_were_kept, nothing_is_stuck
from demo_script.story.finding import Finding, People, look_up
from demo_script.story.tale import Tale

Look = Callable[[Day], Awaitable[Finding]]


def _once(look: Callable[[Tale, People], Awaitable[Finding]]) -> Look:
    """What is the same for the whole stage, looked into from the morning's group."""

    async def from_the_morning(day: Day) -> Finding:
        tale = day.group(MORNING).tale
        return await look(tale, await look_up(tale))

    return from_the_morning


LOOKS: dict[str, Look] = {
    "digests": about_digests.digests_came_in_time,
    "one minute": about_digests.two_came_in_one_minute,
    "instructors": about_sight.instructors_saw_their_own,
    "substitute": about_sight.the_substitute_saw_one_digest,
    "members": about_sight.no_member_saw_another,
    "strangers": _once(strangers_were_refused),
    "urgent": about_urgent.urgent_came_at_once,
    "asked": about_asking.everyone_was_asked_once,
    "answers": about_asking.every_answer_of_all_is_kept,
    "summaries": about_asking.each_class_was_summed_up,
    "moved": about_changes.the_class_was_moved,
    "demands": about_changes.demands_were_taken_over,
    "newcomer": about_people.the_newcomer_took_part,
    "break": about_people.the_break_was_minded,
    "export": about_changes.the_export_reads_back,
    "limits": _once(limits_were_kept),
    "stuck": _once(nothing_is_stuck),
}
"""By what each is about."""


async def findings_of_day(day: Day) -> tuple[Finding, ...]:
    """Everything that was to come true."""
    return tuple([await look(day) for look in LOOKS.values()])
