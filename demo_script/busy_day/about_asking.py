"""Was everyone asked once, in the right minute; is all kept, and summed up once?"""

from datetime import timedelta

from bot.storage.sessions import Session
from core.rules import REMINDER_AFTER
from demo_script.busy_day.about_digests import MINUTE, in_minute
from demo_script.busy_day.day import Day, StagedGroup
from demo_script.story.about_answers import every_answer_is_kept
from demo_script.story.finding import Finding, People, look_up
from demo_script.story.witness import Sight


async def everyone_was_asked_once(day: Day) -> Finding:
    """One prompt per class in its minute; a reminder for who had said nothing; one in the chat."""
    wrong, asked, reminded = [], 0, 0
    for group in day.groups:
        session, people = await day.session(group), await look_up(group.tale)
        due = session.ends_at + timedelta(minutes=group.tale.plan.prompt_after)
        for name in sorted(group.names):
            came = [each.at for each in _asking(day, group, session, people, name)]
            at_once = [at for at in came if due <= at < due + MINUTE]
            later = [at for at in came if at >= due + REMINDER_AFTER]
            silent = not any(each.member == name for each in group.tale.ledger.given)
            if (len(came), len(at_once), len(later)) != (1 + silent, 1, silent):
                wrong.append(f"{name}, {group.name}: {len(came)} times, {len(at_once)} in time")
            asked, reminded = asked + 1, reminded + len(later)
        if group.chat is not None:
            chat = [e for e in day.witness.sights if e.chat_id == group.chat.group_id]
            of_today = [e for e in chat if e.kind == "message" and e.at >= day.at("00:00")]
            if len(of_today) != 1 or not in_minute(of_today[0], due):
                wrong.append(f"{group.name}, the chat: {len(of_today)} times")
    return Finding(
        name="everyone who was to be asked was asked once per class, in the right minute",
        holds=not wrong,
        evidence="; ".join(wrong)
        or f"{asked} prompts after {len(day.groups)} classes, each 10 minutes after its end; "
        f"{reminded} reminder; one question in the group's chat",
    )


async def every_answer_of_all_is_kept(day: Day) -> Finding:
    """In each of the groups."""
    found = [await every_answer_is_kept(g.tale, await look_up(g.tale)) for g in day.groups]
    given = [each for group in day.groups for each in group.tale.ledger.given]
    in_chat = sum("group's chat" in each.looked for each in given)
    typed = sum(each.typed is not None for each in given)
    wrong = [each.evidence for each in found if not each.holds]
    return Finding(
        name=found[0].name,
        holds=not wrong and bool(given) and in_chat > 0 and typed > 0,
        evidence="; ".join(wrong)
        or f"{len(given)} answers: {typed} typed, {in_chat} tapped in the group's chat, the others "
        "by buttons",
    )


async def each_class_was_summed_up(day: Day) -> Finding:
    """Once for each instructor of the group: when all had answered, or the next morning."""
    wrong, told = [], []
    for group in day.groups:
        sights = [e for e in day.witness.sights if _sums_up(day, e, group)]
        readers = sorted(leader.person_id for leader in group.leaders)
        given = [each.at for each in group.tale.ledger.given]
        answered = {each.member for each in group.tale.ledger.given} == group.names
        after = max(given) if answered else day.at("10:00", days_later=1)
        in_time = all(after <= e.at < after + timedelta(minutes=6) for e in sights)
        if sorted(e.chat_id for e in sights) != readers or not in_time:
            wrong.append(f"{group.name}: {len(sights)} for {len(readers)} instructors")
        when = "all had answered" if answered else "the next morning had come"
        told.append(f"{group.name} when {when}")
    return Finding(
        name="each class was summed up once to its instructors",
        holds=not wrong,
        evidence="; ".join(wrong or told),
    )


def _asking(
    day: Day, group: StagedGroup, session: Session, people: People, name: str
) -> list[Sight]:
    """The messages that asked this member about that class, in order."""
    prompt = people.prompt(session.id, name)
    account = group.tale.actor(name).account
    return [e for e in day.witness.by(account, "message") if e.asks and prompt in e.prompts]


def _sums_up(day: Day, sight: Sight, group: StagedGroup) -> bool:
    head = sight.text.partition("\n")[0]
    of_the_day = day.began is not None and sight.at > day.began
    return sight.kind == "message" and of_the_day and head == f"{group.name}, after class"
