"""What PostgreSQL calls otherwise than SQLite, put into its words just before it is run."""

import re
from functools import lru_cache

TOKENS = r"""
    '(?:[^']|'')*'                  # text
    | "(?:[^"]|"")*"                # a name in quotes
    | --[^\n]*                      # a comment to the end of its line
    | /\*.*?\*/                     # a comment
    | ::                            # a cast
    | :(?P<parameter>[A-Za-z_]\w*)
    | \b(?P<taken>leading)\b
    | %
"""
"""A table is called `leading`, which is a word of PostgreSQL's own."""
TYPES = {
    "INTEGER": "BIGINT",  # in SQLite every one has 64 bits
    "REAL": "DOUBLE PRECISION",
    "BLOB": "BYTEA",
    "TEXT": 'TEXT COLLATE "C"',  # in order of its bytes, as moments and ids must be
}

OF_STATEMENT = re.compile(TOKENS, re.VERBOSE | re.DOTALL)
OF_SCRIPT = re.compile(rf"{TOKENS} | \b(?P<type>{'|'.join(TYPES)})\b", re.VERBOSE | re.DOTALL)


@lru_cache(maxsize=1024)
def statement_for_postgres(sql: str) -> str:
    """A statement whose `:name` has become `%(name)s`, as the driver wants it."""
    return OF_STATEMENT.sub(_token, sql)


def script_for_postgres(sql: str) -> str:
    """A statement of a script, with the types that hold as much as SQLite's; without parameters."""
    return OF_SCRIPT.sub(_word, sql)


def _token(found: re.Match[str]) -> str:
    if found["parameter"]:
        return f"%({found['parameter']})s"
    return f'"{found[0]}"' if found["taken"] else found[0].replace("%", "%%")


def _word(found: re.Match[str]) -> str:
    if found["type"]:
        return TYPES[found["type"]]
    return f'"{found[0]}"' if found["taken"] else found[0]
