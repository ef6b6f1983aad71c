"""Letters: what must be said to a chat, queued in the transaction that holds the reason."""

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from enum import IntEnum, StrEnum

from bot.storage.database import Transaction
from bot.storage.moments import round_up, write_maybe, write_moment
from bot.storage.reach import is_unreachable

OUTBOX = "outbox"  # the name under which the sender is woken, and told what may go at once
SETTLED = "settled"  # wakes those who wait until there is nothing left to do


class Priority(IntEnum):
    """Which letters go first when there is more to send than may be sent."""

    URGENT = 0
    INTERACTIVE = 1
    PROMPT = 2
    DIGEST = 3


class Kind(StrEnum):
    """What a letter is for, which decides whether it is repeated when it may have arrived."""

    ALERT = "alert"
    PROMPT = "prompt"
    DIGEST = "digest"
    CONFIRMATION = "confirmation"


@dataclass(frozen=True, slots=True, kw_only=True)
class Attachment:
    """A file that goes with a letter."""

    field: str
    """The argument of the method that the file is, such as `photo` or `document`."""
    name: str
    content: bytes


@dataclass(frozen=True, slots=True, kw_only=True)
class Letter:
    """One call of a Bot API method that must happen once."""

    id: str
    """Names the reason, such as `prompt:<session>:<member>`: queued twice, it is sent once."""
    chat: int
    method: str
    arguments: Mapping[str, object] = field(default_factory=dict)
    """What the method takes, as JSON values, without `chat_id`."""
    priority: Priority
    kind: Kind
    not_before: datetime | None = None
    """Until then later letters of the chat may overtake it."""
    not_after: datetime | None = None
    """When it would come later than this, it is dropped."""
    edits: str | None = None
    """The id of the letter whose message this one changes."""
    anew: bool = False
    """Send an `editMessageText` as a new message if the one to change isn't there."""
    slot: str | None = None
    """A newer letter for the same slot of a chat replaces the ones that are not sent yet."""
    if_repeated: str | None = None
    """A line added to the text when the letter is sent again because it may not have arrived."""
    file: Attachment | None = None
    passing: bool = False
    """Leaves nothing behind: once it has ended its row goes, with whom it was to."""
    at_once: bool = False
    """May go as soon as it's committed, if it's plain: nothing that follows takes it back."""

    @property
    def plain(self) -> bool:
        """Whether it changes a message that is known, and may do so twice and at any time."""
        timely = self.not_before is None and self.not_after is None
        harmless = is_harmless(self.method, self.edits)
        return harmless and timely and self.file is None and not self.passing


def is_change(method: str) -> bool:
    """Whether a method of the Bot API changes a message: twice to the same is once."""
    return method.startswith("edit")


def is_harmless(method: str, edits: str | None) -> bool:
    """Whether a letter only changes a message that is known, which may be done twice."""
    # what changes another letter's message may turn out to be sent anew
    return is_change(method) and edits is None


async def queue(tx: Transaction, letter: Letter, now: datetime) -> bool:
    """Queue a letter; false if its id is known, since twice is once.

    If the sender can send it at once, it is being sent as soon as this is committed.
    """
    reachable = not await is_unreachable(tx, letter.chat)
    goes = reachable and letter.at_once and letter.plain and tx.wanted(OUTBOX, letter)
    is_new = await _insert(tx, letter, now, goes=goes)
    if not is_new:
        return False
    if goes:
        tx.tell(OUTBOX, letter)
        return True
    if letter.slot is not None:
        await tx.execute(
            """UPDATE outbox SET state = 'superseded', ended_at = :now
            WHERE chat = :chat AND slot = :slot AND id <> :id
            AND state IN ('queued', 'sending') AND state = 'queued'""",
            chat=letter.chat,
            slot=letter.slot,
            id=letter.id,
            now=write_moment(now),
        )
    if not reachable:
        await withdraw(tx, letter.id, now, "unreachable")
    tx.wake(OUTBOX)
    return True


async def _insert(tx: Transaction, letter: Letter, now: datetime, *, goes: bool) -> bool:
    file = letter.file
    added = await tx.value(
        """INSERT INTO outbox (
            id, sequence, chat, method, arguments, file, file_name, file_field, priority, kind,
            not_before, not_after, edits, anew, slot, if_repeated, passing, queued_at,
            state, tries, tried_at
        ) VALUES (
            :id, (SELECT COALESCE(MAX(sequence), 0) + 1 FROM outbox), :chat, :method, :arguments,
            :file, :file_name, :file_field, :priority, :kind,
            :not_before, :not_after, :edits, :anew, :slot, :if_repeated, :passing, :now,
            :state, :tries, :tried_at
        ) ON CONFLICT (id) DO NOTHING RETURNING id""",
        id=letter.id,
        chat=letter.chat,
        method=letter.method,
        arguments=json.dumps(dict(letter.arguments)),
        file=None if file is None else file.content,
        file_name=None if file is None else file.name,
        file_field=None if file is None else file.field,
        priority=int(letter.priority),
        kind=letter.kind.value,
        not_before=write_maybe(None if letter.not_before is None else round_up(letter.not_before)),
        not_after=write_maybe(letter.not_after),
        edits=letter.edits,
        anew=int(letter.anew),
        slot=letter.slot,
        if_repeated=letter.if_repeated,
        passing=int(letter.passing),
        now=write_moment(now),
        state="sending" if goes else "queued",
        tries=int(goes),
        tried_at=write_moment(now) if goes else None,
    )
    return added is not None


async def withdraw(
    tx: Transaction, letter_id: str, now: datetime, reason: str = "withdrawn"
) -> bool:
    """Take back a letter that has not been sent, or will not be repeated; true if it was there."""
    changed = await tx.execute(
        """UPDATE outbox SET state = 'dropped', reason = :reason, ended_at = :now
        WHERE id = :id AND state = 'queued'""",
        id=letter_id,
        reason=reason,
        now=write_moment(now),
    )
    tx.wake(SETTLED)
    return changed > 0


async def message_of(tx: Transaction, letter_id: str) -> int | None:
    """The message that a letter became, or None if it is not known to have arrived."""
    message: int | None = await tx.value(
        "SELECT message_id FROM outbox WHERE id = :id", id=letter_id
    )
    return message


async def asked_in(tx: Transaction, chat: int, message_id: int) -> str | None:
    """The letter with a prompt that became this message; None if it isn't known any more."""
    letter: str | None = await tx.value(
        """SELECT id FROM outbox WHERE chat = :chat AND message_id = :message_id
        AND kind = 'prompt' AND edits IS NULL""",
        chat=chat,
        message_id=message_id,
    )
    return letter


async def is_waiting(tx: Transaction, letter_id: str) -> bool:
    """Whether a letter is still on its way."""
    sql = "SELECT 1 FROM outbox WHERE id = :id AND state IN ('queued', 'sending')"
    return await tx.value(sql, id=letter_id) is not None


async def prune(tx: Transaction, before: datetime) -> int:
    """Remove letters that ended before this moment; says how many. Their ids are forgotten too."""
    return await tx.execute(
        "DELETE FROM outbox WHERE ended_at < :before", before=write_moment(before)
    )
