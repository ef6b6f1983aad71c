"""Did anybody see what isn't theirs?"""

import re

from demo_script.story.finding import Finding, People
from demo_script.story.tale import Tale


async def nobody_saw_another(tale: Tale, people: People) -> Finding:
    """No other member's name in any message, and no other member's question under one."""
    prompt_owner = {
        people.prompt(session_id, name): name
        for session_id in tale.ledger.sessions.values()
        for name in people.by_name
    }
    seen, wrong = 0, []
    for actor in tale.cast:
        others = _any_of([name for name in people.by_name if name != actor.name])
        for sight in tale.witness.by(actor.account):
            seen += 1
            named = others.search(sight.text)
            strange = [each for each in sight.prompts if prompt_owner.get(each) != actor.name]
            if named or strange:
                wrong.append(f"{actor.name} saw {sight.text[:60]!r}")
    return Finding(
        name="no member saw anything about another",
        holds=not wrong and seen > 0,
        evidence="; ".join(wrong)
        or f"{seen} messages, changes and answers to {len(tale.cast)} members searched for the "
        "names and questions of the others",
    )


async def strangers_were_refused(tale: Tale, people: People) -> Finding:
    """Politely: with words, and without a name."""
    known = _any_of([*people.by_name, tale.instructor.name, tale.plan.name])
    spoken = [each for each in tale.refusals if each.strip()]
    told = [each for each in spoken if known.search(each)]
    return Finding(
        name="the stranger and the forged press were refused, and told nothing",
        holds=len(spoken) == 2 and not told,
        evidence=" / ".join(f"“{each.splitlines()[0]}”" for each in spoken),
    )


def _any_of(names: list[str]) -> re.Pattern[str]:
    return re.compile("|".join(rf"\b{re.escape(name)}\b" for name in names))
