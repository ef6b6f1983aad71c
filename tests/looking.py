"""Looks into a database from outside, whichever engine keeps it, while the bot has it open."""

import sqlite3
from contextlib import closing
from pathlib import Path

import psycopg

from bot.place import Place
from bot.storage.dialect import statement_for_postgres

OF_FILE = "SELECT name FROM sqlite_master WHERE type = 'table'"
OF_SERVER = "SELECT tablename FROM pg_tables WHERE schemaname = 'public'"


def rows(place: Place, sql: str, *values: object) -> list[tuple[object, ...]]:
    """What the database says; `?` stands for a value."""
    if isinstance(place, Path):
        with closing(sqlite3.connect(place)) as connection:
            return [tuple(row) for row in connection.execute(sql, values)]
    with psycopg.connect(place.address, cursor_factory=psycopg.ClientCursor) as server:
        marked = statement_for_postgres(sql).replace("?", "%s")
        return server.execute(marked.encode(), values).fetchall()


def tables(place: Place) -> list[str]:
    """The names of all tables."""
    return [str(name) for (name,) in rows(place, OF_FILE if isinstance(place, Path) else OF_SERVER)]
