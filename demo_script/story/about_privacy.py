"""Did anybody see what isn't theirs?"""

import re
from collections.abc import Iterable, Mapping

from demo_script.story.finding import Finding, People
from demo_script.story.tale import Tale
from demo_script.story.witness import Sight


async def nobody_saw_another(tale: Tale, people: People) -> Finding:
    """No other member's name in any message, and no other member's question under one."""
    owners = {
        people.prompt(session_id, name): name
        for session_id in tale.ledger.sessions.values()
        for name in people.by_name
    }
    seen, wrong = 0, []
    for actor in tale.cast:
        sights = list(tale.witness.by(actor.account))
        seen += len(sights)
        strange = strange_to(actor.name, sights, people.by_name, owners)
        wrong += [f"{actor.name} saw {sight.text[:60]!r}" for sight in strange]
    return Finding(
        name="no member saw anything about another",
        holds=not wrong and seen > 0,
        evidence="; ".join(wrong)
        or f"{seen} messages, changes and answers to {len(tale.cast)} members searched for the "
        "names and questions of the others",
    )


async def strangers_were_refused(tale: Tale, people: People) -> Finding:
    """Politely: with words, and without a name."""
    known = any_of([*people.by_name, tale.instructor.name, tale.plan.name])
    spoken = [each for each in tale.refusals if each.strip()]
    told = [each for each in spoken if known.search(each)]
    return Finding(
        name="the stranger and the forged press were refused, and told nothing",
        holds=len(spoken) == 2 and not told,
        evidence=" / ".join(f"“{each.splitlines()[0]}”" for each in spoken),
    )


def strange_to(
    name: str, sights: Iterable[Sight], names: Iterable[str], owners: Mapping[str, str]
) -> list[Sight]:
    """What names another of these people, or asks another's question; `owners` are by prompt."""
    others = any_of([each for each in names if each != name])
    return [
        sight
        for sight in sights
        if others.search(sight.text) or any(owners.get(each) != name for each in sight.prompts)
    ]


def any_of(names: Iterable[str]) -> re.Pattern[str]:
    """Finds any of these names as a word; nothing where there are none."""
    return re.compile("|".join(rf"\b{re.escape(name)}\b" for name in names) or r"(?!)")
