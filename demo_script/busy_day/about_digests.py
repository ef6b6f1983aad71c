"""Did every digest come in time, with its picture, and to its readers alone?"""

from datetime import datetime, timedelta

from bot.storage.sessions import Session
from demo_script.busy_day.day import EVENING, MIDDAY, Day, Part, StagedGroup
from demo_script.stand_in import Person
from demo_script.story.finding import Finding
from demo_script.story.witness import Sight

MINUTE = timedelta(minutes=1)


async def digests_came_in_time(day: Day) -> Finding:
    """In its minute, one text and one picture for each reader, and nothing to anybody else."""
    wrong, told = [], []
    for group in day.groups:
        session, readers = await day.session(group), readers_of(day, group)
        due = digest_due(group, session)
        for reader in readers:
            texts, pictures = _texts(day, session, reader, due), _pictures(day, group, reader, due)
            if len(texts) != 1 or len(pictures) != 1:
                wrong.append(f"{reader.name}, {group.name}: {len(texts)} and {len(pictures)}")
        wrong += [
            f"{group.name}: seen in chat {sight.chat_id}"
            for sight in day.witness.sights
            if session.id in sight.classes
            and sight.chat_id not in {reader.person_id for reader in readers}
        ]
        if due >= session.starts_at:
            wrong.append(f"{group.name}: due only when the class begins")
        told.append(f"{group.name} to {' and '.join(reader.name for reader in readers)}")
    return Finding(
        name="every digest came in its minute before class, with its picture, to its readers only",
        holds=not wrong,
        evidence="; ".join(wrong or told),
    )


async def two_came_in_one_minute(day: Day) -> Finding:
    """Both digests with both pictures, one after the other as the chat API allows."""
    came: list[Sight] = []
    for part in (MIDDAY, EVENING):
        group = day.group(part)
        session = await day.session(group)
        due = digest_due(group, session)
        came += _texts(day, session, day.second, due) + _pictures(day, group, day.second, due)
    moments = sorted(sight.at for sight in came)
    within = moments[-1] - moments[0] if moments else timedelta(0)
    return Finding(
        name="the digests of two groups came to one instructor in the same minute, both whole",
        holds=len(came) == 4 and within < MINUTE,
        evidence=f"{len(came)} messages within {within.total_seconds():.1f} s to {day.second.name}",
    )


def readers_of(day: Day, group: StagedGroup) -> tuple[Person, ...]:
    """Who was to read this group's digest that day."""
    stands_in = (day.second,) if group is day.group(Part(MIDDAY)) else ()
    return (*group.leaders, *stands_in)


def digest_due(group: StagedGroup, session: Session) -> datetime:
    """When the digest of that class is due."""
    return session.starts_at - timedelta(minutes=group.tale.plan.digest_before)


def in_minute(sight: Sight, moment: datetime) -> bool:
    """Whether it was seen in the minute that begins there."""
    return moment <= sight.at < moment + MINUTE


def _texts(day: Day, session: Session, reader: Person, due: datetime) -> list[Sight]:
    return [
        sight
        for sight in day.witness.by(reader, "message")
        if session.id in sight.classes and in_minute(sight, due)
    ]


def _pictures(day: Day, group: StagedGroup, reader: Person, due: datetime) -> list[Sight]:
    return [
        sight
        for sight in day.witness.by(reader, "message")
        if in_minute(sight, due)
        and sight.text.startswith(group.name)
        and sight.message is not None
        and sight.message.attachment is not None
        and sight.message.attachment.kind == "photo"
    ]
