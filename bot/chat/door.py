"""The door: every update comes in here, is handled in one transaction, and marked as done."""

import logging
from collections.abc import Awaitable, Callable, Coroutine
from datetime import datetime, timedelta
from typing import Any

from telegram import Bot, Update
from telegram.constants import ChatType
from telegram.error import NetworkError, TelegramError
from telegram.ext import CallbackContext

from bot.chat.commands import set_commands
from bot.chat.place import place_of
from bot.chat.visit import Rooms, Visit
from bot.logs import fields
from bot.storage import inbox, people
from bot.storage.database import Transaction
from bot.storage.reach import clear_unreachable
from core.names import tidy

LOG = logging.getLogger(__name__)

Job = Callable[[Visit], Awaitable[None]]
Fetch = Callable[[Rooms, Update], Awaitable[object]]
Context = CallbackContext[Any, Any, Any, Any]
Handler = Callable[[Update, Context], Coroutine[Any, Any, None]]

NAMELESS = "?"
REST, LONGEST_WAIT = timedelta(seconds=15), timedelta(minutes=30)


def door(rooms: Rooms, job: Job, fetch: Fetch | None = None) -> Handler:
    """A handler for the chat library that does this job once, whatever happens in between.

    `fetch` gets what the job needs from the chat API, before the transaction begins: inside it
    everybody else waits.
    """

    async def handle(update: Update, context: Context) -> None:
        try:
            brought = None if fetch is None else await fetch(rooms, update)
        except NetworkError as broken:
            if not await _put_off(rooms, update):
                raise
            LOG.warning("the chat API is out of reach", extra=fields(error=type(broken).__name__))
            return
        # what came in is on the disk until this is
        async with rooms.database.transaction(lasting=False) as tx:
            # first, since it also says whether it was done before: it holds if all the rest does
            came = await inbox.mark_done(tx, update.update_id, rooms.now())
            if came is None:
                return
            visit = await _enter(tx, rooms, update, came, brought)
            if visit is not None:
                await job(visit)
        if visit is not None:
            await _leave(context.bot, update, visit)

    return handle


async def _put_off(rooms: Rooms, update: Update) -> bool:
    """What has to be fetched for it may come within reach again: for a while it's tried anew."""
    now = rooms.now()
    async with rooms.database.transaction() as tx:
        return await inbox.put_off(tx, update.update_id, now + REST, now - LONGEST_WAIT)


async def _enter(
    tx: Transaction, rooms: Rooms, update: Update, came: datetime, brought: object
) -> Visit | None:
    """Who it is, and what they did; None if it isn't from a person."""
    account = update.effective_user
    if account is None or account.is_bot:
        return None
    name = tidy(account.full_name or "") or NAMELESS  # accounts that are gone have none
    person = await people.person_of_account(tx, account.id)
    if person is not None:
        person = await people.follow(tx, person, name, account.language_code)
    chat, query = update.effective_chat, update.callback_query
    private = chat is not None and chat.type == ChatType.PRIVATE
    if private and (update.message is not None or query is not None):
        await clear_unreachable(tx, account.id)
    return Visit(
        tx=tx,
        rooms=rooms,
        now=rooms.now(),
        came=came,
        update_id=update.update_id,
        account=account.id,
        person=person,
        name=name,
        language=account.language_code,
        text=_text(update),
        data=(query.data or "") if query is not None else "",
        pressed=query.message.message_id if query is not None and query.message else None,
        status=_status(update) if private else "",
        place=place_of(update),
        brought=brought,
    )


def _text(update: Update) -> str:
    message = update.message
    return "" if message is None else message.text or message.caption or ""


def _status(update: Update) -> str:
    change = update.my_chat_member
    return "" if change is None else change.new_chat_member.status


async def _leave(bot: Bot, update: Update, visit: Visit) -> None:
    """What needn't be kept: the answer to a press first, since it can't wait."""
    if update.callback_query is not None:
        await _answer(bot, update.callback_query.id, visit)
    if visit.new_commands:
        await set_commands(bot, visit.account)
    if visit.afterwards is not None:
        await visit.rooms.follow(visit.afterwards)


async def _answer(bot: Bot, query: str, visit: Visit) -> None:
    toast = visit.toast
    try:
        await bot.answer_callback_query(
            query,
            text=None if toast is None else visit.speech.label(toast.sentence, **toast.facts),
            show_alert=toast is not None and toast.stays,
            url=visit.opens,
        )
    except TelegramError:
        return  # too old, or out of reach: what was pressed is stored all the same
