"""What follows from the result of a send, for the letter and for its chat."""

from datetime import datetime, timedelta

from bot.delivery.failure import Failure, Verdict
from bot.delivery.hooks import Hooks
from bot.storage import outcomes, reach
from bot.storage.database import Transaction
from bot.storage.outgoing import Outgoing

LONGEST_REST_SECONDS = 60


async def settle(
    tx: Transaction, letter: Outgoing, result: object, now: datetime, hooks: Hooks
) -> None:
    """Write down what became of a letter: `result` is a Failure, or what the chat API returned."""
    if not isinstance(result, Failure):
        await outcomes.sent(tx, letter.id, _message_id(result), now)
        return
    match result.verdict:
        case Verdict.UNCHANGED:
            await outcomes.sent(tx, letter.id, None, now)
        case Verdict.LATER:
            await _later(tx, letter, result.wait, now)
        case Verdict.UNCERTAIN:
            await outcomes.in_doubt(tx, letter.id, now)
        case Verdict.GONE if letter.anew and letter.method == "editMessageText":
            await outcomes.as_new(tx, letter.id, now)
        case Verdict.GONE:  # somebody deleted it: there is nothing to mend
            await outcomes.dropped(tx, letter.id, "nothing to change", now)
        case Verdict.UNREACHABLE:
            await _unreachable(tx, letter, result.reason, now, hooks)
        case Verdict.MOVED if result.new_chat is not None:
            await reach.move_chat(tx, letter.chat, result.new_chat)
            await hooks.on_moved(tx, letter.chat, result.new_chat)
            await outcomes.again_at(tx, letter.id, now)
        case Verdict.STOP:
            await outcomes.again_at(tx, letter.id, now)  # it was not sent; the process will end
        case Verdict.REFUSED | Verdict.MOVED:
            await outcomes.failed(tx, letter.id, result.reason, now)


async def _later(tx: Transaction, letter: Outgoing, asked: timedelta | None, now: datetime) -> None:
    if asked is not None:
        await reach.pause(tx, letter.chat, now + asked, now)
    rest = asked or timedelta(seconds=min(2 ** min(letter.tries, 10), LONGEST_REST_SECONDS))
    await outcomes.again_at(tx, letter.id, now + rest)


async def _unreachable(
    tx: Transaction, letter: Outgoing, reason: str, now: datetime, hooks: Hooks
) -> None:
    await outcomes.dropped(tx, letter.id, "unreachable", now)
    if await reach.mark_unreachable(tx, letter.chat, reason, now):
        await hooks.on_unreachable(tx, letter.chat, now)


def _message_id(result: object) -> int | None:
    """The id of the message that came back; some methods only say true."""
    found = result.get("message_id") if isinstance(result, dict) else None
    return found if isinstance(found, int) else None
