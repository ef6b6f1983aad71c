"""The process that draws: cards come in by a pipe, files go out, until the pipe ends."""

import os
import pickle
import signal
import sys
import traceback
from contextlib import suppress
from pathlib import Path
from typing import BinaryIO

from bot.errors import NotDrawn
from bot.pictures.cards import Card


def main() -> None:
    """Answer each card by its picture, or by why there is none."""
    # Both are meant for the bot, which finishes what is being drawn and then closes the pipe.
    for meant_for_others in (signal.SIGINT, signal.SIGTERM):
        signal.signal(meant_for_others, signal.SIG_IGN)
    with suppress(BrokenPipeError), _answers() as answers:
        while (card := _next(sys.stdin.buffer)) is not None:
            pickle.dump(_answer(card), answers)
            answers.flush()


def _answers() -> BinaryIO:
    """What was standard output; whoever prints from now on prints to nowhere."""
    answers = os.fdopen(os.dup(sys.stdout.fileno()), "wb")
    os.dup2(sys.stderr.fileno(), sys.stdout.fileno())
    return answers


def _next(cards: BinaryIO) -> Card | None:
    try:
        card: Card = pickle.load(cards)
    except (EOFError, pickle.UnpicklingError):  # nobody is there any more
        return None
    return card


def _answer(card: Card) -> bytes | NotDrawn:
    try:
        from bot.pictures.drawing import draw  # here, so that its lack can be told as well

        return draw(card)
    except Exception as problem:  # noqa: BLE001 - any may come; its words may hold names
        place = traceback.extract_tb(problem.__traceback__)[-1]
        return NotDrawn(f"{type(problem).__name__} in {Path(place.filename).name}:{place.lineno}")


if __name__ == "__main__":
    main()
