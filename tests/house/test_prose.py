"""Sentences live in one room: handlers, desks and calendars hold none."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.house.paths import dotted, modules

SILENT_ROOMS = ("bot/chat", "bot/desk", "bot/schedule", "bot/delivery", "core")
LOGS = {"debug", "info", "warning", "error", "exception", "critical"}


def silent_files() -> list[Path]:
    """Files of rooms that say nothing to people."""
    return modules(*SILENT_ROOMS)


def spoken(tree: ast.Module) -> Iterator[str]:
    """Literals that read like a sentence: a capital letter, spaces and an ending."""
    quiet = {id(node) for call in ast.walk(tree) for node in _not_spoken(call)}
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in quiet:
            text = node.value.strip()
            if text[:1].isupper() and text.count(" ") >= 2 and text[-1:] in ".!?:":
                yield text


def _not_spoken(node: ast.AST) -> Iterator[ast.AST]:
    """Docstrings, log lines and what exceptions carry for programmers."""
    if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
        yield node.value
    if isinstance(node, ast.Raise) and node.exc is not None:
        yield from ast.walk(node.exc)
    logs = isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute)
    if logs and node.func.attr in LOGS:  # type: ignore[attr-defined]
        yield from ast.walk(node)


@pytest.mark.parametrize("path", silent_files(), ids=dotted)
def test_no_sentence_stands_outside_the_room_of_words(path: Path) -> None:
    assert list(spoken(ast.parse(path.read_text()))) == []


def test_a_sentence_would_be_found() -> None:
    tree = ast.parse('def reply():\n    """A sign."""\n    return "How hard was it today?"')
    assert list(spoken(tree)) == ["How hard was it today?"]
