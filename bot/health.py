"""Whether all that the bot needs is fine: ten findings for the operator."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta
from time import monotonic
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from bot.alive import is_alive
from bot.delivery.probe import Greeting, greet
from bot.place import Place
from bot.settings import DOTENV, Settings
from bot.storage.health import FileHealth, look_at
from bot.storage.upgrade import newest_known
from bot.words import health as words

LARGEST_ERROR = timedelta(seconds=30)
"""Of the clock: what is asked and reminded comes so much too early or too late."""
LEAST_FREE_BYTES = 200 * 1024 * 1024
"""Room for years of a studio, and a backup beside it."""
BACKUP_AFTER = timedelta(days=14)
ZONE = "Europe/Lisbon"
"""Any place with summer time will do."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """What was looked at, whether it's fine, and what to do if it isn't."""

    name: str
    fine: bool
    told: str

    def __str__(self) -> str:
        return words.line(self.name, self.told, fine=self.fine)


async def examine(settings: Settings, now: Callable[[], datetime]) -> tuple[Finding, ...]:
    """Look at everything that a run needs; nothing is changed, and the token isn't told."""
    token = settings.token.text
    began = monotonic()
    greeting = await greet(settings.api_url, token) if token else None
    took, moment = timedelta(seconds=monotonic() - began), now()
    file = look_at(settings.database, DOTENV)
    return (
        _token(greeting),
        _address(settings.api_url, greeting, took),
        _updates(greeting, file),
        _database(settings.database, file),
        _secrecy(file),
        _process(file, moment),
        _clock(greeting, file, moment),
        _zones(),
        _disk(settings.database, file),
        _backup(file, moment),
    )


def _process(file: FileHealth, now: datetime) -> Finding:
    alive, told = is_alive(file, now)
    return Finding(name="process", fine=alive or not file.in_use, told=told)


def _fine(name: str, told: str) -> Finding:
    return Finding(name=name, fine=True, told=told)


def _amiss(name: str, told: str) -> Finding:
    return Finding(name=name, fine=False, told=told)


def _token(greeting: Greeting | None) -> Finding:
    if greeting is None:
        return _amiss("token", words.no_token())
    if greeting.username:
        return _fine("token", words.token_accepted(greeting.username))
    refused = greeting.refused and not greeting.strange
    return _amiss("token", words.token_refused() if refused else words.token_untested())


def _address(url: str, greeting: Greeting | None, took: timedelta) -> Finding:
    if greeting is None:
        return _fine("address", words.address_untested(url))
    if greeting.problem:
        return _amiss("address", words.address_silent(url, greeting.problem))
    if greeting.strange:
        return _amiss("address", words.address_strange(url, greeting.status))
    return _fine("address", words.address_answers(url, took))


def _updates(greeting: Greeting | None, file: FileHealth) -> Finding:
    if greeting is not None and greeting.webhook:
        return _amiss("updates", words.webhook())
    there = greeting.waiting if greeting is not None and greeting.username else None
    return _fine("updates", words.updates(there, file.waiting, file.parked))


def _database(path: Place, file: FileHealth) -> Finding:
    known = newest_known()
    if file.away:
        return _amiss("database", words.database_away(path))
    if file.size_bytes is None:
        return _fine("database", words.database_new(path))
    if file.version is None:
        return _amiss("database", words.database_strange(path))
    if not file.sound:
        return _amiss("database", words.database_damaged(path))
    told = words.database_version(path, file.size_bytes, file.version, known)
    return Finding(name="database", fine=file.version <= known, told=told)


def _secrecy(file: FileHealth) -> Finding:
    if file.open_to_others:
        return _amiss("secrecy", words.open_to_others(file.open_to_others))
    return _fine("secrecy", words.private_settings() if file.server else words.private())


def _clock(greeting: Greeting | None, file: FileHealth, now: datetime) -> Finding:
    error = None if greeting is None or greeting.its_time is None else now - greeting.its_time
    if error is not None and abs(error) > LARGEST_ERROR:
        return _amiss("clock", words.clock_off(error))
    latest = max(filter(None, (file.last_poll, file.last_turn)), default=now)
    if latest - now > LARGEST_ERROR:
        return _amiss("clock", words.clock_was_ahead(latest))
    return _fine("clock", words.clock(error))


def _zones() -> Finding:
    try:
        zone = ZoneInfo(ZONE)
    except (ZoneInfoNotFoundError, OSError):
        return _amiss("time zones", words.no_zones())
    summer, winter = (datetime(2026, month, 1, tzinfo=zone).utcoffset() for month in (7, 1))
    return (
        _amiss("time zones", words.no_zones())
        if summer == winter
        else _fine("time zones", words.zones())
    )


def _disk(path: Place, file: FileHealth) -> Finding:
    if file.away:
        return _fine("disk", words.unknown_while_away())
    if not file.can_be_written:
        return _amiss("disk", words.disk_closed(path))
    if file.server:
        return _fine("disk", words.disk_of_server())
    if file.free_bytes < LEAST_FREE_BYTES:
        return _amiss("disk", words.disk_full(file.free_bytes))
    return _fine("disk", words.disk(file.free_bytes))


def _backup(file: FileHealth, now: datetime) -> Finding:
    if file.server:
        return _fine("backup", words.backup_of_server())
    if file.made_at is None:
        return _fine("backup", words.nothing_to_save())
    since = None if file.last_backup is None else now - file.last_backup
    late = now - (file.last_backup or file.made_at) > BACKUP_AFTER
    told = words.backup_missing(since) if since is None or late else words.backup_made(since)
    return Finding(name="backup", fine=not late, told=told)
