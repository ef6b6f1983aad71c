"""The question in a group's chat: asked after class, counted without names, and closed."""

from datetime import UTC, datetime, timedelta

from bot.desk.letters import content
from bot.storage import group_chats, groups, outbox, sessions
from bot.storage import shared_questions as shared
from bot.storage.database import Transaction
from bot.storage.group_chats import NO_THREAD, GroupChat
from bot.storage.outbox import Kind, Letter, Priority
from bot.storage.reach import clear_unreachable
from bot.storage.sessions import Session
from bot.storage.shared_questions import SharedQuestion
from bot.words import group_chat as words
from bot.words.class_news import did_not_take_place
from bot.words.message import Message
from bot.words.speech import Speech, speech_for
from core.rules import PROMPT_USEFUL

FEWEST_SHOWN = 5
"""Below so many answers the chat sees no count: it would say too much about who has answered."""
COUNTED_EVERY_SECONDS = 20
"""A group takes 20 messages a minute, and nobody reads faster."""
MOST_INVITES = 60
"""Links that people who aren't on the roster can get from one question."""


async def ask(tx: Transaction, session: Session, now: datetime, not_after: datetime) -> None:
    """Ask in the group's chat, if it has one, and close what was asked there before."""
    group = await groups.group(tx, session.group_id)
    chat = await group_chats.chat_of(tx, group)
    if chat is None:
        return
    before = await shared.latest_question(tx, group.id)
    question = await shared.put_question(tx, session.id, MOST_INVITES, now)
    if question is None:
        return
    # A chat that refused us may have changed its mind without telling: once a class we try.
    await clear_unreachable(tx, chat.chat)
    if before is not None:
        await _note_success(tx, chat, before)
        await _close(tx, chat, before, now)
    await _post(tx, chat, question, session, now, not_after)


async def recount(tx: Transaction, session: Session, reason: str, now: datetime) -> None:
    """Let the question show how many have answered, if that changed; at most every 20 seconds."""
    group = await groups.group(tx, session.group_id)
    question = await shared.question_about(tx, session.id)
    chat = await group_chats.chat_of(tx, group)
    if question is None or chat is None:
        return
    count = await _count(tx, session)
    # one that isn't known to have arrived is left alone, so that it may still be repeated
    if count == question.shown or await outbox.message_of(tx, question.letter) is None:
        return
    await shared.note_shown(tx, question.id, count)
    message = await _message(tx, chat, question, session, count)
    await _edit(tx, chat, question, message, reason, now, not_before=_next_count(now))


async def call_off(tx: Transaction, session: Session, reason: str, now: datetime) -> None:
    """Say where the question stands that the class didn't take place."""
    question = await shared.question_about(tx, session.id)
    group = await groups.group(tx, session.group_id)
    chat = await group_chats.chat_of(tx, group)
    if question is None or chat is None or await outbox.withdraw(tx, question.letter, now):
        return
    message = did_not_take_place(await _speech(tx, chat), group.name, session.local_day)
    await _edit(tx, chat, question, message, f"off/{reason}", now)


async def call_on(tx: Transaction, session: Session, reason: str, now: datetime) -> None:
    """Ask again where that was said, if the class took place after all."""
    question = await shared.question_about(tx, session.id)
    group = await groups.group(tx, session.group_id)
    chat = await group_chats.chat_of(tx, group)
    if question is not None and chat is not None:
        message = await _message(tx, chat, question, session, question.shown)
        await _edit(tx, chat, question, message, f"on/{reason}", now)


async def ask_anew(tx: Transaction, chat: GroupChat, now: datetime) -> None:
    """Ask once more in a chat that has moved, where the old message can't be changed any more."""
    question = await shared.latest_question(tx, chat.group_id)
    if question is None or await outbox.is_waiting(tx, question.letter):
        return
    session = await sessions.session(tx, question.session_id)
    if session.cancelled:
        return
    following = await sessions.session_after(tx, session)
    useful = question.asked_at + PROMPT_USEFUL
    until = useful if following is None else min(useful, following.starts_at)
    if now < until:
        letter = f"shared/{question.id}/{chat.chat}"
        await shared.note_letter(tx, question.id, letter)
        await shared.note_shown(tx, question.id, await _count(tx, session))
        again = await shared.question_about(tx, session.id)
        if again is not None:
            await _post(tx, chat, again, session, now, until)


async def _post(
    tx: Transaction,
    chat: GroupChat,
    question: SharedQuestion,
    session: Session,
    now: datetime,
    not_after: datetime,
) -> None:
    message = await _message(tx, chat, question, session, question.shown)
    topic = {} if chat.thread == NO_THREAD else {"message_thread_id": chat.thread}
    letter = Letter(
        id=question.letter,
        chat=chat.chat,
        method="sendMessage",
        arguments={**content(message), **topic},
        priority=Priority.PROMPT,
        kind=Kind.PROMPT,
        not_after=not_after,
    )
    await outbox.queue(tx, letter, now)


async def _edit(
    tx: Transaction,
    chat: GroupChat,
    question: SharedQuestion,
    message: Message,
    reason: str,
    now: datetime,
    *,
    not_before: datetime | None = None,
) -> None:
    """Change what stands in the chat; whoever deleted it there doesn't get it again."""
    letter = Letter(
        id=f"{question.letter}/{reason}",
        chat=chat.chat,
        method="editMessageText",
        arguments=content(message),
        priority=Priority.DIGEST,
        kind=Kind.CONFIRMATION,
        edits=question.letter,
        slot=question.letter,
        not_before=not_before,
    )
    await outbox.queue(tx, letter, now)


async def _close(tx: Transaction, chat: GroupChat, question: SharedQuestion, now: datetime) -> None:
    session = await sessions.session(tx, question.session_id)
    if session.cancelled:
        return  # it says so already
    group = await groups.group(tx, chat.group_id)
    message = words.closed_question(
        await _speech(tx, chat), group=group.name, on=session.local_day, count=question.shown
    )
    await _edit(tx, chat, question, message, "closed", now)


async def _note_success(tx: Transaction, chat: GroupChat, before: SharedQuestion) -> None:
    """A chat that was lost takes messages again if the last question arrived since."""
    tried_since = chat.lost_at is not None and before.asked_at > chat.lost_at
    if tried_since and await outbox.message_of(tx, before.letter) is not None:
        await group_chats.set_lost(tx, chat.chat, None)


async def _message(
    tx: Transaction, chat: GroupChat, question: SharedQuestion, session: Session, count: int
) -> Message:
    group = await groups.group(tx, chat.group_id)
    return words.shared_question(
        await _speech(tx, chat),
        question.id,
        group=group.name,
        on=session.local_day,
        count=count,
        address=chat.address,
    )


async def _speech(tx: Transaction, chat: GroupChat) -> Speech:
    """The chat has no language that we could know: it is spoken to like its first instructor."""
    leaders = await groups.leaders(tx, chat.group_id)
    return speech_for(leaders[0].language if leaders else None)


async def _count(tx: Transaction, session: Session) -> int:
    count = await shared.count_answers(tx, session.id)
    return count if count >= FEWEST_SHOWN else 0


def _next_count(now: datetime) -> datetime:
    """The next of the moments at which counts change, so that many taps make one change."""
    turns = int(now.timestamp()) // COUNTED_EVERY_SECONDS + 1
    return datetime.fromtimestamp(0, UTC) + timedelta(seconds=turns * COUNTED_EVERY_SECONDS)
