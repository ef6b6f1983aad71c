"""What the README says is so: settings, commands, length."""

import re
import tomllib
from dataclasses import MISSING, fields

from bot.settings import MEANINGS, PREFIX, Settings
from tests.house.paths import ROOT

README = (ROOT / "README.md").read_text()
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text()


def test_every_setting_has_its_row_and_every_row_its_setting() -> None:
    rows = dict(re.findall(r"^\| `CLASS_EFFORT_(\w+)` \| (.+?) \|", README, re.MULTILINE))
    told = {name: default.strip("`") for name, default in rows.items()}
    expected = {}
    for field in fields(Settings):
        none = field.default is MISSING or field.default is None
        expected[field.name.upper()] = "none" if none else str(field.default)
    assert told == expected


def test_every_setting_is_described_as_in_the_code() -> None:
    assert list(MEANINGS) == [field.name for field in fields(Settings)]
    for name, meaning in MEANINGS.items():
        assert f"| `{PREFIX}{name.upper()}` |" in README
        assert meaning in README


def test_the_job_stands_in_one_paragraph_at_the_top() -> None:
    title, paragraph = README.split("\n\n")[:2]
    assert title == "# Class effort bot"
    assert len(paragraph) > 400
    assert "\n#" not in paragraph


def test_the_pages_are_short_enough_to_be_read() -> None:
    assert len(README.splitlines()) <= 100
    assert len(DEVELOPERS.splitlines()) <= 250


def test_the_commands_are_single_lines_that_set_everything_up() -> None:
    for name in ("demo", "test"):
        block = README.partition(f"<!-- {name} command -->")[2].partition("<!-- end -->")[0]
        (line,) = block.strip().splitlines()
        assert line.startswith("python3 -m venv .venv && .venv/bin/pip install")


def test_the_console_command_is_the_module() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]
    assert project["scripts"] == {"class-effort-bot": "bot.__main__:main"}
