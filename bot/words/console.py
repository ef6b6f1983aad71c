"""What the operator reads on the console."""

from pathlib import Path

from bot.errors import (
    AlreadyRunning,
    Broken,
    ChatRefusesUs,
    DatabaseTooNew,
    NoUpdates,
    Problem,
    StorageTrouble,
    Trouble,
)

DESCRIPTION = (
    "Asks a class how hard it was, and tells the instructor what each person should do next time."
)


TROUBLES = {
    Trouble.FULL: "its disk is full; make room, nothing is lost",
    Trouble.READ_ONLY: "it can't be written; give the bot's user write access to it",
    Trouble.LOCKED: "another program holds it; end that one",
    Trouble.FAILING: "its disk fails, or is full; look at the disk, and run check",
    Trouble.AWAY: "its server can't be reached; look at the server, the address and the password",
}


def claim_with(username: str, code: str) -> str:
    """How to become the first instructor; shown once, and nowhere else."""
    return (
        "Nobody has claimed this bot yet. To become its first instructor, send it this message "
        f"in a private chat:\n\n    /start {code}\n\n"
        f"or open https://t.me/{username}?start={code} on your phone.\n"
    )


def running(username: str) -> str:
    """The bot is up."""
    return f"@{username} is running. Stop it with Ctrl-C."


def backed_up(database: Path, target: Path) -> str:
    """A backup was written and verified."""
    return f"Saved {database} to {target} and checked the copy."


def restored(saved: Path, database: Path, kept: Path | None) -> str:
    """A backup was put in place."""
    old = "" if kept is None else f" What was there before is now {kept}."
    return f"Restored {saved} to {database}.{old}"


def only_for_files(command: str) -> Problem:
    """What is done with a server's own commands."""
    return Problem(
        where=command,
        wrong="the database is on a PostgreSQL server",
        expected="pg_dump and pg_restore instead, as DEVELOPERS.md says",
    )


def broken(problem: Broken) -> str:
    """Why it can't go on, and what to do, in one line."""
    match problem:
        case AlreadyRunning():
            return (
                f"{problem.path} is in use by another process; stop that one first, or set "
                "CLASS_EFFORT_DATABASE to another one"
            )
        case DatabaseTooNew():
            return (
                f"the database was written by a newer version (step {problem.found}, this one "
                f"knows {problem.known}); install the newer version"
            )
        case ChatRefusesUs():
            return (
                f"the chat service refuses us: {problem.reason}; check CLASS_EFFORT_TOKEN, and "
                "that no other process uses it"
            )
        case StorageTrouble():
            return f"the database can't be used: {TROUBLES[problem.trouble]}"
        case NoUpdates():
            return (
                f"the chat service has not answered for several minutes ({problem.reason}); "
                "a new start tries again"
            )
        case _:
            return f"something broke on our side: {problem}"
