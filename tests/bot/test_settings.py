"""What is set is read from the environment, and before that from a `.env` file."""

from pathlib import Path

import pytest

from bot.errors import BadInput
from bot.settings import Secret, Settings, read_settings

pytestmark = pytest.mark.usefixtures("nothing_set")


def test_a_token_is_all_that_is_needed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("CLASS_EFFORT_TOKEN", "1:a")
    assert read_settings() == Settings(token=Secret("1:a"))


def test_what_only_touches_the_database_needs_none() -> None:
    assert read_settings(token_needed=False) == Settings(token=Secret(""))


def test_a_file_is_read_as_shells_do() -> None:
    Path(".env").write_text(
        "# ours\nexport CLASS_EFFORT_TOKEN='1:a'\nCLASS_EFFORT_DATABASE=\"my classes.sqlite3\"\n"
        "CLASS_EFFORT_OWNER_CODE=vlinders-morgen # said on the phone\nOTHER=1\n",
        encoding="utf-8",
    )
    assert read_settings() == Settings(
        token=Secret("1:a"),
        database=Path("my classes.sqlite3"),
        owner_code=Secret("vlinders-morgen"),
    )


def test_the_environment_comes_before_the_file(monkeypatch: pytest.MonkeyPatch) -> None:
    Path(".env").write_text("CLASS_EFFORT_TOKEN=1:a\nclass_effort_api_url=http://127.0.0.1:8081\n")
    monkeypatch.setenv("class_effort_token", "2:b")
    assert read_settings() == Settings(token=Secret("2:b"), api_url="http://127.0.0.1:8081")


def test_everything_that_is_wrong_is_told_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("CLASS_EFFORT_API_URL", "telegram.org")
    monkeypatch.setenv("CLASS_EFFORT_OWNER_CODE", "x" * 65)
    with pytest.raises(BadInput) as refused:
        read_settings()
    assert [each.where for each in refused.value.problems] == [
        "CLASS_EFFORT_TOKEN",
        "CLASS_EFFORT_API_URL",
        "CLASS_EFFORT_OWNER_CODE",
    ]


def test_what_is_secret_is_not_shown() -> None:
    shown = Settings(token=Secret("1:hidden"), owner_code=Secret("hidden-as-well"))
    assert "hidden" not in f"{shown} {shown!r} {shown.token}"
