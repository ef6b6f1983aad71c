"""A bare handler on the chat library as it comes, started with an address and a token."""

import sys

from telegram import InlineKeyboardButton, InlineKeyboardMarkup, Update
from telegram.ext import Application, CallbackQueryHandler, CommandHandler, ContextTypes

Context = ContextTypes.DEFAULT_TYPE


def keyboard() -> InlineKeyboardMarkup:
    """Two rows for eleven numbers."""
    buttons = [InlineKeyboardButton(str(each), callback_data=f"n:{each}") for each in range(11)]
    return InlineKeyboardMarkup([buttons[:6], buttons[6:]])


async def start(update: Update, _: Context) -> None:
    """Show the buttons."""
    assert update.message is not None
    await update.message.reply_text("How hard was it? (0)", reply_markup=keyboard())


async def press(update: Update, _: Context) -> None:
    """Answer the press, and change the message."""
    query = update.callback_query
    assert query is not None
    await query.answer("Noted.")
    await query.edit_message_text(f"How hard was it? ({query.id})", reply_markup=keyboard())


def main() -> None:
    """Poll until told to stop."""
    url, token = sys.argv[1:]
    application = (
        Application.builder()
        .token(token)
        .base_url(f"{url}/bot")
        .base_file_url(f"{url}/file/bot")
        .concurrent_updates(64)
        .build()
    )
    application.add_handler(CommandHandler("start", start))
    application.add_handler(CallbackQueryHandler(press))
    application.run_polling()


if __name__ == "__main__":
    main()
