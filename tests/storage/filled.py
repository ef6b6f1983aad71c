"""A database of any version with rows in every table, made from what the tables say."""

import re
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

from bot.storage.sqlite import connect
from bot.storage.upgrade import Script, known_scripts, upgrade

MOMENT = "2026-03-02T12:00:00Z"
ROWS = 3
Row = dict[str, object]


async def filled(path: Path, version: int) -> dict[str, list[Row]]:
    """Make the file as the program of that version would have; what is in every table."""
    async with connect(path) as engine:
        await engine.change("PRAGMA journal_mode = WAL")
        await upgrade(engine, MOMENT, scripts_up_to(version))
    with closing(sqlite3.connect(path, isolation_level=None)) as plain:
        plain.execute("PRAGMA foreign_keys = ON")
        for table in _in_order(plain):
            for number in range(ROWS):
                _insert(plain, table, number)
    return contents(path)


def scripts_up_to(version: int) -> tuple[Script, ...]:
    """What the program of that version knew."""
    return tuple(script for script in known_scripts() if script.number <= version)


def contents(path: Path) -> dict[str, list[Row]]:
    """Every row of every table."""
    with closing(sqlite3.connect(path)) as connection:
        connection.row_factory = sqlite3.Row
        return {
            table: [dict(row) for row in connection.execute(f"SELECT * FROM {table}")]  # noqa: S608
            for table in _tables(connection)
        }


def faults(path: Path) -> list[object]:
    """What SQLite finds wrong with a file."""
    with closing(sqlite3.connect(path)) as connection:
        broken = [row for row in connection.execute("PRAGMA integrity_check") if row != ("ok",)]
        return [*broken, *connection.execute("PRAGMA foreign_key_check")]


def _tables(connection: sqlite3.Connection) -> list[str]:
    sql = "SELECT name FROM sqlite_master WHERE type = 'table' AND name <> 'schema_version'"
    return [name for (name,) in connection.execute(sql)]


def _in_order(connection: sqlite3.Connection) -> Iterator[str]:
    """Each table after those that it refers to."""
    left = dict.fromkeys(_tables(connection))
    while left:
        for table in list(left):
            others = {row[2] for row in connection.execute(f"PRAGMA foreign_key_list({table})")}
            if not (others - {table}) & left.keys():
                del left[table]
                yield table


def _insert(connection: sqlite3.Connection, table: str, number: int) -> None:
    """A row that the table's own checks accept: optional columns stay empty where they must."""
    found = connection.execute("SELECT sql FROM sqlite_master WHERE name = ?", (table,))
    (schema,) = found.fetchone()
    schema = re.sub(r"--.*", "", schema)
    references = {row[3]: row[2] for row in connection.execute(f"PRAGMA foreign_key_list({table})")}
    columns = list(connection.execute(f"PRAGMA table_info({table})"))
    refusal: sqlite3.IntegrityError | None = None
    for chosen in _choices([each for each in columns if not _is_needed(each)]):
        row = {
            name: _value(schema, name, kind, number, references.get(name))
            for _, name, kind, _, _, _ in (
                each for each in columns if _is_needed(each) or each[1] in chosen
            )
        }
        marks = ", ".join(f":{name}" for name in row)
        try:
            names = ", ".join(row)
            connection.execute(f"INSERT INTO {table} ({names}) VALUES ({marks})", row)  # noqa: S608
        except sqlite3.IntegrityError as error:
            refusal = error
        else:
            return
    raise AssertionError(f"no row for {table}: {refusal}")


def _is_needed(column: tuple[object, ...]) -> bool:
    _, _, _, not_null, default, key = column
    return bool(key) or (bool(not_null) and default is None)


def _choices(optional: list[tuple[object, ...]]) -> Iterator[set[object]]:
    """All of the optional columns, all but one, one alone, none: one of them is allowed."""
    names = [column[1] for column in optional]
    yield set(names)
    for name in names:
        yield set(names) - {name}
    for first in names:
        for second in names:
            yield set(names) - {first, second}
    for name in names:
        yield {name}
    yield set()


def _value(schema: str, name: str, kind: str, number: int, refers_to: str | None) -> object:
    words = re.search(rf"\b{name}\b[^,]*?\bIN \(([^)]*)\)", schema)
    if refers_to is not None:
        return f"id {number}"
    if words is not None:
        options = [each.strip().strip("'") for each in words[1].split(",")]
        chosen = options[number % len(options)]
        return int(chosen) if kind in ("INTEGER", "BIGINT") else chosen
    if kind in ("INTEGER", "BIGINT", "REAL"):
        return number + 1
    if kind == "BLOB":
        return bytes([number])
    if name == "id":
        return f"id {number}"
    moment = name == "at" or name.endswith(("_at", "_since", "since", "not_before", "not_after"))
    return f"2026-03-02T12:00:0{number}Z" if moment else f"{name} {number}"
