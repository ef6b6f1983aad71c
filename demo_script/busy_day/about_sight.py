"""Did anybody see what isn't theirs: an instructor, a substitute, or a member?"""

from bot.storage.people import person_of_account
from bot.storage.substitutes import sessions_stood_in
from demo_script.busy_day.about_digests import digest_due, in_minute
from demo_script.busy_day.day import MIDDAY, Day
from demo_script.stand_in import Person
from demo_script.story.about_privacy import any_of, strange_to
from demo_script.story.finding import Finding, look_up
from demo_script.story.witness import Sight


async def instructors_saw_their_own(day: Day) -> Finding:
    """No name of who is only in a group that they don't lead, but in the digest that was lent."""
    session = await day.session(day.group(MIDDAY))
    wrong, told = [], []
    for person in day.instructors:
        lent = [e for e in _hits(day, person) if person is day.second and session.id in e.classes]
        hits = [each for each in _hits(day, person) if each not in lent]
        wrong += [f"{person.name} saw {each.text[:60]!r}" for each in hits]
        seen = len(list(day.witness.by(person)))
        told.append(
            f"{seen} texts to {person.name} searched for {len(day.outsiders(person))} names"
        )
    return Finding(
        name="no instructor saw anybody of a group that they don't lead",
        holds=not wrong,
        evidence="; ".join(wrong or told),
    )


async def the_substitute_saw_one_digest(day: Day) -> Finding:
    """That of the class, when it was due; after the class the same command shows nothing of it."""
    group = day.group(MIDDAY)
    session, looked = await day.session(group), day.notes.substitute_until
    hits = _hits(day, day.second)
    in_time = [each for each in hits if in_minute(each, digest_due(group, session))]
    async with day.theatre.house.database.transaction() as tx:
        person = await person_of_account(tx, day.second.person_id)
        left = () if person is None else await sessions_stood_in(tx, person, day.now)
    answered = looked is not None and any(
        each.at >= looked and each.classes for each in day.witness.by(day.second, "message")
    )
    return Finding(
        name="the substitute saw that one digest, and nothing of the group afterwards",
        holds=len(hits) == len(in_time) == 1 and answered and not left,
        evidence=f"{len(in_time)} digest in its minute, {len(hits) - len(in_time)} other messages "
        f"with members of {group.name}; /digest after the class was answered: {answered}; "
        f"{len(left)} classes left to stand in for",
    )


async def no_member_saw_another(day: Day) -> Finding:
    """Neither in their own chats, whatever groups they are in, nor in the group's."""
    names = {name for group in day.groups for name in group.names}
    owners: dict[str, str] = {}
    for group in day.groups:
        people = await look_up(group.tale)
        for session_id in group.tale.ledger.sessions.values():
            owners |= {people.prompt(session_id, name): name for name in people.by_name}
    seen, wrong = 0, []
    accounts = {a.name: a.account for group in day.groups for a in group.tale.cast}
    for name, account in accounts.items():
        sights = _of_the_day(day, list(day.witness.by(account)))
        seen += len(sights)
        wrong += [f"{name} saw {e.text[:60]!r}" for e in strange_to(name, sights, names, owners)]
    chats = {group.chat.group_id for group in day.groups if group.chat is not None}
    for sight in day.witness.sights:
        if sight.chat_id in chats and sight.kind != "answer":
            seen += 1
            wrong += [f"all saw {sight.text[:60]!r}"] if any_of(names).search(sight.text) else []
    return Finding(
        name="no member saw anything about another, and the group's chat names nobody",
        holds=not wrong and seen > 0,
        evidence="; ".join(wrong)
        or f"{seen} messages, changes and answers of that day to {len(accounts)} members and "
        f"{len(chats)} chat searched for the names and questions of the others",
    )


def _of_the_day(day: Day, sights: list[Sight]) -> list[Sight]:
    """What was asked in the weeks before isn't in the ledger."""
    return [each for each in sights if day.began is not None and each.at >= day.began]


def _hits(day: Day, person: Person) -> list[Sight]:
    outsiders = any_of(day.outsiders(person))
    return [each for each in day.witness.by(person) if outsiders.search(each.text)]
