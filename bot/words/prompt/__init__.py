"""The questions after class: their buttons, what was understood, how to change it."""

from bot.words.prompt.asking import AGAIN, REMINDER, question_message
from bot.words.prompt.noted import change_message, closed_message, summary_message
from bot.words.prompt.occasion import Occasion

__all__ = [
    "AGAIN",
    "REMINDER",
    "Occasion",
    "change_message",
    "closed_message",
    "question_message",
    "summary_message",
]
