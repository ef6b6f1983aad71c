"""A bare handler on another framework, started with an address and a token."""

import asyncio
import sys

from aiogram import Bot, Dispatcher
from aiogram.client.session.aiohttp import AiohttpSession
from aiogram.client.telegram import TelegramAPIServer
from aiogram.filters import CommandStart
from aiogram.types import CallbackQuery, InlineKeyboardButton, InlineKeyboardMarkup, Message


def keyboard() -> InlineKeyboardMarkup:
    """Two rows for eleven numbers."""
    buttons = [
        InlineKeyboardButton(text=str(each), callback_data=f"n:{each}") for each in range(11)
    ]
    return InlineKeyboardMarkup(inline_keyboard=[buttons[:6], buttons[6:]])


async def start(message: Message) -> None:
    """Show the buttons."""
    await message.answer("How hard was it? (0)", reply_markup=keyboard())


async def press(query: CallbackQuery) -> None:
    """Answer the press, and change the message."""
    await query.answer("Noted.")
    assert isinstance(query.message, Message)
    await query.message.edit_text(f"How hard was it? ({query.id})", reply_markup=keyboard())


async def main() -> None:
    """Poll until told to stop."""
    url, token = sys.argv[1:]
    session = AiohttpSession(api=TelegramAPIServer.from_base(url))
    dispatcher = Dispatcher()
    dispatcher.message.register(start, CommandStart())
    dispatcher.callback_query.register(press)
    await dispatcher.start_polling(Bot(token, session=session))


if __name__ == "__main__":
    asyncio.run(main())
