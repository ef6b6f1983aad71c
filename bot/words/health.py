"""What `check` tells the operator: a line for each thing, and what to do about it."""

from collections.abc import Iterable
from datetime import datetime, timedelta
from pathlib import Path

from bot.place import Place

MEGABYTE = 1024 * 1024


def line(name: str, told: str, *, fine: bool) -> str:
    """One finding."""
    return f"{'fine ' if fine else 'AMISS'}  {name:<10}  {told}"


def no_token() -> str:
    """The most common first mistake."""
    return "CLASS_EFFORT_TOKEN is not set; @BotFather gives you one, see the README"


def token_refused() -> str:
    """The chat API knows no such bot."""
    return "the chat service knows no bot with this token; copy it anew from @BotFather"


def token_untested() -> str:
    """Nobody there to try it on."""
    return "set, but it could not be tried"


def token_accepted(username: str) -> str:
    """It works."""
    return f"accepted; the bot is @{username}"


def address_answers(url: str, took: timedelta) -> str:
    """Something speaks the Bot API there."""
    return f"{url} answers, in {took.total_seconds():.1f} s"


def address_silent(url: str, problem: str) -> str:
    """Nothing does."""
    return f"{url} gives no answer ({problem}); check CLASS_EFFORT_API_URL and the network"


def address_strange(url: str, status: int) -> str:
    """Something else is there."""
    return f"{url} answers, but not as the chat service does ({status}); check CLASS_EFFORT_API_URL"


def address_untested(url: str) -> str:
    """Without a token it can't be asked."""
    return f"{url}, not asked since there is no token"


def updates(there: int | None, here: int, parked: int) -> str:
    """How much waits to be handled."""
    outside = "an unknown number wait" if there is None else f"{there} wait"
    aside = f", {parked} put aside after failures (see DEVELOPERS.md)" if parked else ""
    return f"{outside} at the chat service, {here} here{aside}"


def webhook() -> str:
    """Somebody else gets the updates."""
    return "a webhook is set for this bot, so its updates go elsewhere; remove it (deleteWebhook)"


def database_away(path: Place) -> str:
    """Nobody answers there, or nobody lets us in."""
    return f"{path} can't be reached; look at the server, the address, the name and the password"


def database_new(path: Place) -> str:
    """There will be one."""
    return f"{path} is not there yet; it is made by the first run"


def database_strange(path: Place) -> str:
    """It isn't ours, or broken beyond reading."""
    return f"{path} can't be read as a database of this program; restore a backup"


def database_damaged(path: Place) -> str:
    """Pages are broken."""
    return f"{path} is damaged; stop the bot and restore a backup"


def database_version(path: Place, size_bytes: int, version: int, known: int) -> str:
    """How it stands to this program."""
    told = f"{path}, {size_bytes / MEGABYTE:.1f} MB, sound, step {version} of {known}"
    if version > known:
        return f"{told}: it is from a newer program; install that one"
    return f"{told}: the next run upgrades it" if version < known else told


def private() -> str:
    """Nobody else can read anything."""
    return "only you can read the database and the settings"


def private_settings() -> str:
    """The rest isn't ours to see."""
    return "only you can read the settings; who can read the database is up to its server"


def open_to_others(files: Iterable[Path]) -> str:
    """Somebody else can."""
    named = " ".join(map(str, files))
    return f"others on this computer can read {named}; chmod 600 {named}"


def stopped() -> str:
    """The bot isn't running, which is no fault."""
    return "not running"


def alive(heard: timedelta) -> str:
    """It runs, and does what it should."""
    return f"running; the chat service answered {ago(heard)}"


def silent(heard: timedelta | None) -> str:
    """It runs, but hears nothing."""
    since = (
        "has not heard from the chat service yet"
        if heard is None
        else (f"last heard from the chat service {ago(heard)}")
    )
    return f"running, but it {since}; look at its log, and start it again"


def stuck(turned: timedelta | None) -> str:
    """It runs, but the calendar stands still."""
    since = (
        "not looked at the calendar yet"
        if turned is None
        else (f"not looked at the calendar since {ago(turned)}")
    )
    return f"running, but it has {since}; look at its log, and start it again"


def clock(error: timedelta | None) -> str:
    """How far it is off."""
    if error is None:
        return "nothing to compare it with"
    return f"within {abs(error).total_seconds():.0f} s of the chat service's"


def clock_off(error: timedelta) -> str:
    """Too far."""
    way = "ahead" if error > timedelta(0) else "behind"
    return f"{_span(error)} {way} of the chat service's; let the computer set its clock by itself"


def clock_was_ahead(moment: datetime) -> str:
    """The bot has written down something that has not happened yet."""
    return f"the bot was alive at {moment:%Y-%m-%d %H:%M} UTC, which is still to come; check it"


def zones() -> str:
    """Local times can be worked out."""
    return "known"


def no_zones() -> str:
    """They can't."""
    return "the computer knows no time zones; pip install tzdata"


def disk(free_bytes: int) -> str:
    """Enough room, and it can be written."""
    return f"{free_bytes / MEGABYTE:,.0f} MB free"


def disk_full(free_bytes: int) -> str:
    """Little room."""
    return f"only {free_bytes / MEGABYTE:,.0f} MB free; nothing new can be kept without room"


def disk_closed(path: Place) -> str:
    """No permission."""
    return f"{path} can't be written; give the bot's user write access to it and to its folder"


def disk_of_server() -> str:
    """Can't be seen from here."""
    return "the server's own, which is looked after there"


def unknown_while_away() -> str:
    """Nobody to ask."""
    return "not known while the server can't be reached"


def backup_of_server() -> str:
    """Can't be seen from here."""
    return "made with pg_dump or by the server's own means, so it isn't seen from here"


def nothing_to_save() -> str:
    """There is no database yet."""
    return "nothing to save yet"


def backup_made(since: timedelta) -> str:
    """Lately."""
    return f"made {ago(since)}"


def backup_missing(since: timedelta | None) -> str:
    """Too long ago."""
    last = "none was made yet" if since is None else f"the last one was made {ago(since)}"
    return f"{last}; class-effort-bot backup PATH makes one while the bot runs"


def ago(span: timedelta) -> str:
    """How long since."""
    return f"{_span(span)} ago"


def _span(span: timedelta) -> str:
    seconds = round(abs(span).total_seconds())
    for size, unit in ((86_400, "days"), (3600, "hours"), (60, "minutes")):
        if seconds >= 2 * size:
            return f"{seconds // size} {unit}"
    return f"{seconds} seconds"
