"""Every statement that is written down is one that a server understands, too."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import psycopg
import pytest

from bot.storage.dialect import statement_for_postgres
from tests.conftest import UPGRADED
from tests.server import LocalServer

STORAGE = Path(__file__).parents[2] / "bot" / "storage"
OTHERWISE = ("backup", "copying", "health", "sqlite", "postgres", "server_health")
"""What is about files alone, or about servers alone."""
STATEMENT = re.compile(r"\s*(?:SELECT|INSERT INTO|UPDATE|DELETE FROM|WITH)\s+[\w:'(*\"]")
PARAMETER = re.compile(r"(?<!:):([A-Za-z_]\w*)")
LEAST = 250
"""Fewer would mean that they are looked for in the wrong way."""


def statements() -> Iterator[tuple[str, str]]:
    """Each that is a literal of its own, with where it stands."""
    for path in sorted(STORAGE.glob("*.py")):
        nodes = list(ast.walk(ast.parse(path.read_text())))
        joined = [each for each in nodes if isinstance(each, ast.JoinedStr)]
        pieces = {id(part) for each in joined for part in each.values}
        for each in nodes:
            if not isinstance(each, ast.Constant) or id(each) in pieces:
                continue
            if path.stem not in OTHERWISE and STATEMENT.match(str(each.value)):
                yield f"{path.name}:{each.lineno}", str(each.value)


@pytest.mark.of_servers
def test_a_server_understands_every_statement(upgraded_server: LocalServer) -> None:
    place, refused, asked = upgraded_server.make(UPGRADED), list[str](), 0
    with psycopg.connect(
        place.address, cursor_factory=psycopg.ClientCursor, autocommit=True
    ) as connection:
        for where, sql in statements():
            named = dict.fromkeys(PARAMETER.findall(sql))
            asked += 1
            try:
                connection.execute(f"EXPLAIN {statement_for_postgres(sql)}".encode(), named)
            except psycopg.Error as error:
                refused.append(f"{where}: {str(error).splitlines()[0]}")
    upgraded_server.drop(place)
    assert refused == []
    assert asked > LEAST
