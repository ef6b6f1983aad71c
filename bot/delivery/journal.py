"""What the process writes to its log, and what never gets into it."""

import logging
import sys
from typing import TextIO
from urllib.parse import quote

FORM = "%(asctime)s %(levelname)s %(name)s: %(message)s"
# Their INFO lines hold addresses, and an address of the chat API holds the token.
TALKATIVE = ("httpx", "httpcore", "aiohttp", "urllib3", "asyncio", "apscheduler", "aiosqlite")
# Prints the body of an answer that is no JSON, whatever is in it; we tell of the failure ourselves.
INDISCREET = ("telegram.request.BaseRequest",)
INSTEAD = "[token]"


class Redacting(logging.Filter):
    """Replaces a secret in messages, arguments and tracebacks. Belongs on handlers."""

    def __init__(self, token: str) -> None:
        super().__init__()
        secret = token.rpartition(":")[2]  # also in case an address is written in some other way
        self._forms = tuple(form for form in (token, quote(token, safe=""), secret) if form)
        self._formatter = logging.Formatter()

    def filter(self, record: logging.LogRecord) -> bool:
        """Clean the record; always lets it through."""
        record.msg, record.args = self.clean(record.getMessage()), None
        if record.exc_info:
            record.exc_text = self._formatter.formatException(record.exc_info)
        if record.exc_text:
            record.exc_text = self.clean(record.exc_text)  # what formatters write, if it is set
        if record.stack_info:
            record.stack_info = self.clean(record.stack_info)
        return True

    def clean(self, text: str) -> str:
        """The text without the secret."""
        for form in self._forms:
            text = text.replace(form, INSTEAD)
        return text


def open_journal(
    token: str, *, level: int = logging.INFO, stream: TextIO | None = None
) -> logging.Handler:
    """Log to standard error, without the token; returns the handler, in case it must go again."""
    handler = logging.StreamHandler(stream or sys.stderr)
    handler.setFormatter(logging.Formatter(FORM))
    handler.addFilter(Redacting(token))
    root = logging.getLogger()
    root.addHandler(handler)
    root.setLevel(level)
    for name in TALKATIVE:
        logging.getLogger(name).setLevel(logging.WARNING)
    for name in INDISCREET:
        logging.getLogger(name).setLevel(logging.CRITICAL)
    # below INFO the chat library writes whole messages
    logging.getLogger("telegram").setLevel(max(level, logging.INFO))
    return handler
