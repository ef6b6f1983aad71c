"""What the command line finds when it starts."""

import os
from pathlib import Path

import pytest


@pytest.fixture
def nothing_set(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """An empty folder, and nothing set."""
    monkeypatch.chdir(tmp_path)
    for name in list(os.environ):
        if name.startswith("CLASS_EFFORT_"):
            monkeypatch.delenv(name)
