"""Was everyone asked once a week, and is every answer kept as it was given?"""

from bot.storage import prompts
from demo_script.story.finding import Finding, People
from demo_script.story.ledger import Given
from demo_script.story.tale import Tale


async def everyone_was_asked(tale: Tale, people: People) -> Finding:
    """One prompt for every member when it was due; one reminder for who had said nothing."""
    asked, reminded, wrong = 0, 0, []
    for week, session_id in tale.ledger.sessions.items():
        for actor in tale.cast:
            prompt = people.prompt(session_id, actor.name)
            places = [
                place
                for place, each in enumerate(tale.witness.sights)
                if each.kind == "message" and each.asks and prompt in each.prompts
            ]
            silent = _silent_until_reminder(tale, week, prompt)
            asked += bool(places)
            reminded += len(places) > 1
            at_once = [place for place in places if place in tale.ledger.prompted[week]]
            if len(places) != 1 + silent or len(at_once) != 1:
                wrong.append(f"{actor.name} in week {week}: {len(places)}, {len(at_once)} in time")
    return Finding(
        name="everyone was asked once a week, and reminded once if they had said nothing",
        holds=not wrong,
        evidence="; ".join(wrong)
        or f"{asked} prompts to {len(tale.cast)} members, all of them {tale.plan.prompt_after} "
        f"minutes after {len(tale.ledger.sessions)} classes; {reminded} reminders; none missing, "
        "none twice",
    )


def _silent_until_reminder(tale: Tale, week: int, prompt: str) -> bool:
    reminder = tale.ledger.reminders[week]
    return not any(each.prompt == prompt and each.at < reminder for each in tale.ledger.given)


async def every_answer_is_kept(tale: Tale, people: People) -> Finding:
    """What the database holds is what was tapped or typed last, no less and no more."""
    given = tale.ledger.standing()
    kept, wrong = 0, []
    async with tale.theatre.house.database.transaction() as tx:
        for session_id in tale.ledger.sessions.values():
            for prompt in await prompts.prompts_of_session(tx, session_id):
                stored = {
                    question: (said.number, said.word)
                    for question, said in (await prompts.answers(tx, prompt)).items()
                }
                kept += len(stored)
                if stored != _meant(given.get(prompt.id, {})):
                    wrong.append(f"{people.name(prompt.person_id)}: {stored}")
    total = sum(map(len, given.values()))
    typed = sum(each.typed is not None for each in tale.ledger.given)
    return Finding(
        name="every answer is in the database with its value, and nothing else is",
        holds=not wrong and kept == total,
        evidence="; ".join(wrong)
        or f"{total} questions answered, {kept} answers kept; {typed} of them typed,"
        f" {len(tale.ledger.given) - total} corrected",
    )


def _meant(answers: dict[str, Given]) -> dict[str, tuple[float | None, str | None]]:
    return {question: (each.number, each.word) for question, each in answers.items()}
