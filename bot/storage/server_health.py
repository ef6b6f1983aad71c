"""What there is to know of a database on a server from outside; changes nothing."""

from collections.abc import Generator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import psycopg

from bot.place import Server
from bot.storage.health import FIRST, PARKED, WAITING, FileHealth, open_to_others
from bot.storage.moments import read_maybe
from bot.storage.postgres import LOCK, options_for
from bot.storage.pulse import POLL, TURN

IN_USE = """
SELECT count(*) FROM pg_locks
WHERE locktype = 'advisory' AND classid = 0 AND objid = %s AND granted
AND database = (SELECT oid FROM pg_database WHERE datname = current_database())
"""
WRITABLE = """
SELECT NOT pg_is_in_recovery() AND current_setting('default_transaction_read_only') = 'off'
"""
OURS = "SELECT to_regclass('schema_version') IS NOT NULL"
EMPTY = "SELECT count(*) = 0 FROM pg_tables WHERE schemaname = current_schema()"


def look_at_server(server: Server, *secret: Path) -> FileHealth:
    """Everything at once; files that hold secrets may be named too."""
    known: dict[str, Any] = {"open_to_others": open_to_others(*secret), "server": True}
    try:
        with _asking(server) as ask:
            known["in_use"] = ask(IN_USE, LOCK) > 0
            known["can_be_written"] = ask(WRITABLE)
            if ask(EMPTY):
                return FileHealth(**known)
            known["size_bytes"] = ask("SELECT pg_database_size(current_database())")
            if ask(OURS):
                known["version"] = ask("SELECT max(number) FROM schema_version")
                known["made_at"] = read_maybe(ask(FIRST))
                known |= _seen(ask) | {"waiting": ask(WAITING), "parked": ask(PARKED)}
                known["sound"] = True  # as far as the server knows, who checks what it reads
    except psycopg.Error:
        return FileHealth(**known, away="in_use" not in known)
    return FileHealth(**known)


def signs_of_life_on(server: Server) -> FileHealth:
    """Only whether a process holds it, and when that last did something."""
    try:
        with _asking(server) as ask:
            return FileHealth(server=True, in_use=ask(IN_USE, LOCK) > 0, **_seen(ask))
    except psycopg.Error:
        return FileHealth(server=True, away=True)


@contextmanager
def _asking(server: Server) -> Generator[Any]:
    with psycopg.connect(options_for(server), autocommit=True) as connection:

        def ask(sql: str, *values: object) -> Any:
            row = connection.execute(sql.encode(), values or None).fetchone()
            return None if row is None else row[0]

        yield ask


def _seen(ask: Any) -> dict[str, Any]:
    beat = "SELECT at FROM pulse WHERE name = %s"
    return {
        "last_poll": read_maybe(ask(beat, POLL)),
        "last_turn": read_maybe(ask(beat, TURN)),
    }
