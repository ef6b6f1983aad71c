"""Which failures of the database are of the moment: a full disk, a file that is locked."""

import sqlite3

from bot.errors import Trouble

PRIMARY = 0xFF  # SQLite's extended codes have the plain one in their lowest byte

TROUBLES = {
    sqlite3.SQLITE_FULL: Trouble.FULL,
    sqlite3.SQLITE_READONLY: Trouble.READ_ONLY,
    sqlite3.SQLITE_BUSY: Trouble.LOCKED,
    sqlite3.SQLITE_LOCKED: Trouble.LOCKED,
    sqlite3.SQLITE_PROTOCOL: Trouble.LOCKED,
    sqlite3.SQLITE_IOERR: Trouble.FAILING,
    sqlite3.SQLITE_CANTOPEN: Trouble.FAILING,
}


def trouble_of(error: BaseException) -> Trouble | None:
    """What is the matter with the file; None if it's something else, such as a wrong statement."""
    if not isinstance(error, sqlite3.OperationalError):
        return None
    # those that Python's own module raises have no code
    code = getattr(error, "sqlite_errorcode", None)
    return None if code is None else TROUBLES.get(code & PRIMARY)
