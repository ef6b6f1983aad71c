"""People who can't be written to: their instructors are told, once."""

from datetime import datetime

from bot.desk.letters import Errand, say
from bot.storage import groups, members, people
from bot.storage.database import Transaction
from bot.storage.outbox import Kind, Priority
from bot.words.alerts import unreachable_message
from bot.words.speech import speech_for


async def tell_unreachable(tx: Transaction, chat: int, now: datetime) -> None:
    """Tell the instructors of every group that this member takes part in."""
    person = await people.person_of_account(tx, chat)
    if person is None:
        return
    for group in await members.groups_of(tx, person):
        name = (await people.as_called(tx, person, group.id)).name
        for leader in await groups.leaders(tx, group.id):
            if leader.id == person.id:
                continue
            speech = speech_for(leader.language)
            errand = Errand(
                id=f"unreachable/{person.id}/{group.id}/{leader.id}/{now:%Y%m%d%H%M%S}",
                priority=Priority.DIGEST,
                kind=Kind.ALERT,
            )
            await say(
                tx,
                leader.account,
                unreachable_message(speech, name, group.name),
                errand,
                now,
            )
