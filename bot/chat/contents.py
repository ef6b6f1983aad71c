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
    about_class,
    alerts,
    answer,
    attendance,
    cancel,
    digest,
    estimate,
    export,
    group_chat,
    hurt,
    information,
    instructing,
    invite,
    join,
    limits,
    mydata,
    pause,
    person,
    plan,
    presence,
    progress,
    roster,
    scale,
    settings,
    setup,
    setup_draft,
    setup_trial,
    start,
    tap,
    timetable,
    timetable_class,
    timetable_file,
    typed,
    upload,
    variant,
    verdict,
)
from bot.chat.door import Context, Fetch, Job, door
from bot.chat.visit import Rooms

GROUPS = filters.ChatType.GROUPS & filters.UpdateType.MESSAGE
PRIVATE = filters.ChatType.PRIVATE & filters.UpdateType.MESSAGE  # an edited message is no new one

COMMANDS: dict[str, Job] = {
    "start": start.start,
    "variant": variant.variant,
    "progress": progress.progress,
    "digest": digest.digest,
    "limits": limits.limits,
    "newgroup": setup.new_group,
    "plan": plan.plan,
    "invite": invite.invite,
    "people": roster.people,
    "attendance": attendance.attendance,
    "export": export.export,
    "classes": timetable.classes,
    "groupchat": group_chat.overview,
    "scale": scale.scale,
    "hurt": hurt.hurt,
    "pause": pause.pause,
    "settings": settings.settings,
    "mydata": mydata.my_data,
    "help": information.help_me,
    "privacy": information.privacy,
    "cancel": cancel.cancel,
}
FETCHES: dict[str, Fetch] = {
    "progress": progress.fetch,
    "digest": digest.fetch,
    "variant": variant.fetch,
}
"""What a command brings into its visit, where everybody else would have to wait for it."""
PRESSES: dict[str, Job] = {
    "a": answer.press,
    "s": answer.show,
    "j": join.answer_terms,
    "p": upload.answer_replacing,
    "b": setup_draft.press,
    "f": plan.change,
    "o": invite.press,
    "q": setup_trial.press,
    "k": alerts.seen,
    "c": alerts.clear,
    "x": alerts.deal,
    "A": alerts.look_through,
    "B": limits.press,
    "y": about_class.press,
    "m": alerts.well_again,
    "i": timetable.press,
    "r": timetable_class.press,
    "v": timetable_file.press,
    "g": tap.tap,
    "l": group_chat.link,
    "u": group_chat.unlink,
    "t": verdict.press,
    "n": estimate.press,
    "w": scale.press,
    "e": settings.press,
    "h": hurt.press,
    "z": pause.press,
    "d": mydata.press,
    "C": roster.press,
    "D": person.press,
    "E": attendance.press,
    "F": instructing.press,
}

AnyHandler = BaseHandler[Update, Context, None]


def contents(rooms: Rooms) -> list[AnyHandler]:
    """The handlers, first match first; the last one takes whatever is left.

    Presses come first, as most updates are such, and the one that answers a question before all.
    """
    return [
        *(
            CallbackQueryHandler(door(rooms, job), pattern=rf"^{kind}:")
            for kind, job in PRESSES.items()
        ),
        CallbackQueryHandler(door(rooms, information.unknown_button)),
        *(
            CommandHandler(name, door(rooms, job, FETCHES.get(name)), PRIVATE)
            for name, job in COMMANDS.items()
        ),
        CommandHandler("groupchat", door(rooms, group_chat.here), GROUPS),
        MessageHandler(GROUPS & filters.StatusUpdate.MIGRATE, door(rooms, group_chat.moved)),
        MessageHandler(PRIVATE & filters.COMMAND, door(rooms, information.unknown_command)),
        MessageHandler(
            PRIVATE & filters.Document.ALL, door(rooms, upload.upload, fetch=upload.fetch)
        ),
        MessageHandler(PRIVATE & ~filters.StatusUpdate.ALL, door(rooms, typed.typed)),
        ChatMemberHandler(door(rooms, presence.presence), ChatMemberHandler.MY_CHAT_MEMBER),
        TypeHandler(Update, door(rooms, information.not_for_us)),
    ]
