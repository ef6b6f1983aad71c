"""Whether the story came true: each finding with its evidence."""

from collections.abc import Awaitable, Callable

from demo_script.story import about_alerts, about_answers, about_pain, about_privacy, about_service
from demo_script.story.finding import Finding, People, look_up
from demo_script.story.tale import Tale

Look = Callable[[Tale, People], Awaitable[Finding | None]]

LOOKS: tuple[Look, ...] = (
    about_answers.everyone_was_asked,
    about_answers.every_answer_is_kept,
    about_alerts.maximum_was_found,
    about_alerts.each_cause_was_told_once,
    about_pain.told_at_once,
    about_pain.no_harder_until_cleared,
    about_privacy.nobody_saw_another,
    about_privacy.strangers_were_refused,
    about_service.limits_were_kept,
    about_service.nothing_is_stuck,
    about_service.less_is_maximal_than_by_the_plan,
)


async def findings(tale: Tale) -> tuple[Finding, ...]:
    """Everything that was to come true in a story of this length."""
    people = await look_up(tale)
    found = [await look(tale, people) for look in LOOKS]
    return tuple(each for each in found if each is not None)
