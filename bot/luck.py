"""The one door for luck: codes nobody can guess."""

import hashlib
import secrets

CODE_BYTES = 16  # 128 random bits: not guessable at any rate the chat API allows


def new_code() -> str:
    """A fresh code of 22 characters from `[A-Za-z0-9_-]`, fit for a start link."""
    return secrets.token_urlsafe(CODE_BYTES)


def fingerprint(code: str) -> str:
    """What is stored in place of a code, so that the file alone opens no door."""
    return hashlib.sha256(code.encode()).hexdigest()


def same_code(given: str, expected: str) -> bool:
    """Compare two codes in constant time."""
    return secrets.compare_digest(given.encode(), expected.encode())
