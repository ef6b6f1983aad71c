"""Whether the driver for PostgreSQL is here, which only those need who have chosen that."""

from bot.errors import BadInput, Problem


def need_driver() -> None:
    """Raises BadInput, with what to do about it, if it isn't."""
    try:
        import psycopg  # noqa: F401
    except ImportError:  # also where it finds no library of the server's to speak through
        problem = Problem(
            where="CLASS_EFFORT_DATABASE",
            wrong="the driver for PostgreSQL is not installed",
            expected="it to be: pip install 'class-effort-bot[postgres]'",
        )
        raise BadInput((problem,)) from None
