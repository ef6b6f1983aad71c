"""The table of contents: what is done about each update, in the order in which it is tried."""

from telegram import Update
from telegram.ext import (
    BaseHandler,
    CallbackQueryHandler,
    ChatMemberHandler,
    CommandHandler,
    MessageHandler,
    TypeHandler,
    filters,
)

from bot.chat import (
    alerts,
    answer,
    digest,
    information,
    invite,
    join,
    presence,
    start,
    upload,
    variant,
    verdict,
)
from bot.chat.door import Context, Job, door
from bot.chat.visit import Rooms

PRIVATE = filters.ChatType.PRIVATE & filters.UpdateType.MESSAGE  # an edited message is no new one

COMMANDS: dict[str, Job] = {
    "start": start.start,
    "variant": variant.variant,
    "digest": digest.digest,
    "invite": invite.invite,
    "help": information.help_me,
    "privacy": information.privacy,
    "cancel": answer.cancel,
}
PRESSES: dict[str, Job] = {
    "a": answer.press,
    "s": answer.show,
    "j": join.answer_terms,
    "p": upload.answer_replacing,
    "k": alerts.seen,
    "c": alerts.clear,
    "m": alerts.well_again,
    "t": verdict.press,
}

AnyHandler = BaseHandler[Update, Context, None]


def contents(rooms: Rooms) -> list[AnyHandler]:
    """The handlers, first match first; the last one takes whatever is left."""
    return [
        *(CommandHandler(name, door(rooms, job), PRIVATE) for name, job in COMMANDS.items()),
        MessageHandler(PRIVATE & filters.COMMAND, door(rooms, information.unknown_command)),
        *(
            CallbackQueryHandler(door(rooms, job), pattern=rf"^{kind}:")
            for kind, job in PRESSES.items()
        ),
        CallbackQueryHandler(door(rooms, information.unknown_button)),
        MessageHandler(
            PRIVATE & filters.Document.ALL, door(rooms, upload.upload, fetch=upload.fetch)
        ),
        MessageHandler(PRIVATE & ~filters.StatusUpdate.ALL, door(rooms, answer.typed)),
        ChatMemberHandler(door(rooms, presence.presence), ChatMemberHandler.MY_CHAT_MEMBER),
        TypeHandler(Update, door(rooms, information.not_for_us)),
    ]
