"""Looks into a database from outside, whichever engine keeps it, while the bot has it open."""

import sqlite3
from contextlib import closing
from pathlib import Path

import psycopg

from bot.place import Place
from bot.storage.database import Database
from bot.storage.dialect import statement_for_postgres
from bot.storage.sqlite import Sqlite

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


def file_of(database: Database) -> Sqlite:
    """The engine beneath an open database, to change what it meets."""
    engine = database._engine
    assert isinstance(engine, Sqlite)
    return engine


def tables(place: Place) -> list[str]:
    """The names of all tables."""
    return [str(name) for (name,) in rows(place, OF_FILE if isinstance(place, Path) else OF_SERVER)]


def faults(place: Place) -> int:
    """How much the engine finds wrong with it: broken pages or indexes, rows that point nowhere."""
    if isinstance(place, Path):
        broken = [row for row in rows(place, "PRAGMA integrity_check") if row != ("ok",)]
        return len(broken) + len(rows(place, "PRAGMA foreign_key_check"))
    return sum(bool(rows(place, _orphans(*each))) for each in rows(place, REFERENCES))


REFERENCES = """
SELECT conrelid::regclass::text, confrelid::regclass::text,
    (SELECT attname::text FROM pg_attribute WHERE attrelid = conrelid AND attnum = conkey[1]),
    (SELECT attname::text FROM pg_attribute WHERE attrelid = confrelid AND attnum = confkey[1])
FROM pg_constraint WHERE contype = 'f'
"""
"""Each has one column; a server checks its pages by itself, as it reads them."""


def _orphans(table: object, other: object, column: object, key: object) -> str:
    return f"""SELECT 1 FROM {table} AS one WHERE {column} IS NOT NULL
    AND NOT EXISTS (SELECT 1 FROM {other} AS other WHERE other.{key} = one.{column})"""  # noqa: S608
