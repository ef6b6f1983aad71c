"""Listens to the log while a story is played: an error there is a problem of the story."""

import logging
from collections.abc import Generator
from contextlib import contextmanager


class _Listener(logging.Handler):
    """Writes down what is logged as an error."""

    def __init__(self, heard: list[str]) -> None:
        super().__init__(logging.ERROR)
        self._heard = heard

    def emit(self, record: logging.LogRecord) -> None:
        """Keep it as one line."""
        self._heard.append(f"{record.name}: {record.getMessage()}")


@contextmanager
def listening(heard: list[str]) -> Generator[None]:
    """Write down as long as the story goes on what the bot logs as an error."""
    listener = _Listener(heard)
    logging.getLogger().addHandler(listener)
    try:
        yield
    finally:
        logging.getLogger().removeHandler(listener)
