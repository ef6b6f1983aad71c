"""What the common dialect says is put into PostgreSQL's words, and nothing else changes."""

import re
from pathlib import Path

import pytest

from bot.storage.dialect import script_for_postgres, statement_for_postgres
from bot.storage.upgrade import known_scripts

STORAGE = Path(__file__).parents[2] / "bot" / "storage"


@pytest.mark.parametrize(
    ("common", "asked"),
    [
        ("SELECT :a, :a_2 FROM t", "SELECT %(a)s, %(a_2)s FROM t"),
        ("x = :x;", "x = %(x)s;"),
        ("(:x)", "(%(x)s)"),
        ("SELECT ':a' || ''':b'", "SELECT ':a' || ''':b'"),
        ('SELECT a AS ":b"', 'SELECT a AS ":b"'),
        ("SELECT 1 -- not :this\n, :that", "SELECT 1 -- not :this\n, %(that)s"),
        ("SELECT /* :a\n:b */ :c", "SELECT /* :a\n:b */ %(c)s"),
        ("SELECT x::text, :y", "SELECT x::text, %(y)s"),
        ("a LIKE 'from %' AND b % 2 = :c", "a LIKE 'from %%' AND b %% 2 = %(c)s"),
        ("FROM leading WHERE leading.x = :x", 'FROM "leading" WHERE "leading".x = %(x)s'),
        ("FROM misleading, leading_of", "FROM misleading, leading_of"),
        ("'leading' -- leading", "'leading' -- leading"),
    ],
)
def test_parameters_become_marks_and_everything_else_stays(common: str, asked: str) -> None:
    assert statement_for_postgres(common) == asked


def test_types_hold_as_much_as_in_a_file() -> None:
    script = "CREATE TABLE leading (a TEXT NOT NULL CHECK (a <> 'TEXT'), n INTEGER, r REAL, b BLOB)"
    assert script_for_postgres(script) == (
        """CREATE TABLE "leading" (a TEXT COLLATE "C" NOT NULL CHECK (a <> 'TEXT'), """
        "n BIGINT, r DOUBLE PRECISION, b BYTEA)"
    )


def test_what_is_not_said_in_both_is_not_said() -> None:
    """What one of the two engines alone would take, or takes otherwise than the other."""
    alone = re.compile(
        r"\b(AUTOINCREMENT|INSERT OR|REPLACE INTO|IFNULL|GLOB|ROWID|STRICT|json_\w+|strftime"
        r"|julianday|group_concat|ILIKE|SERIAL|BOOLEAN|NOW\(\)|max\([^()]*,|min\([^()]*,)",
    )
    for script in known_scripts():
        assert alone.search(script.sql) is None, script.name
    of_files = {"backup.py", "copying.py", "health.py", "sqlite.py", "trouble.py"}
    for path in STORAGE.glob("*.py"):
        statements = re.findall(r'"""(.*?)"""', path.read_text(), re.DOTALL)
        if path.name not in of_files:
            assert not [each for each in statements if alone.search(each)], path.name
