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
OF_FILES = ("backup", "before_upgrade", "copying", "health", "sqlite")
OF_SERVERS = ("postgres", "server_health")
STATEMENT = re.compile(r"\s*(?:SELECT|INSERT INTO|UPDATE|DELETE FROM|WITH)\s+[\w:'(*\"]")
PARAMETER = re.compile(r"(?<!:):([A-Za-z_]\w*)")
LEAST = 250
"""Fewer would mean that they are looked for in the wrong way."""


def statements() -> Iterator[tuple[str, str]]:
    """Each that is a literal, with where it stands."""
    for path in sorted(STORAGE.glob("*.py")):
        if path.stem in (*OF_FILES, *OF_SERVERS):
            continue
        tree = ast.parse(path.read_text())
        pieces = {id(part) for each in ast.walk(tree) if isinstance(each, ast.JoinedStr)
                  for part in each.values}  # fmt: skip
        for each in ast.walk(tree):
            if isinstance(each, ast.Constant) and isinstance(each.value, str):
                if id(each) not in pieces and STATEMENT.match(each.value):
                    yield f"{path.name}:{each.lineno}", each.value


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
