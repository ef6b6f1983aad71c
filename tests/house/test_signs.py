"""Every module says at its door what is behind it; the map is made of that."""

import ast
from pathlib import Path

import pytest

from tests.house.paths import ROOMS, ROOT, dotted, modules

LONGEST_SIGN = 90
MAP_BEGINS, MAP_ENDS = "<!-- map -->", "<!-- end of map -->"


def sign(path: Path) -> str:
    """The first line of the module's docstring."""
    docstring = ast.get_docstring(ast.parse(path.read_text()))
    assert docstring, f"{dotted(path)} has no sign"
    return docstring.splitlines()[0]


@pytest.mark.parametrize("path", modules(*ROOMS, "tests"), ids=dotted)
def test_every_door_has_a_sign(path: Path) -> None:
    said = sign(path)
    assert said.endswith((".", "?"))
    assert len(said) <= LONGEST_SIGN
    assert not said.lower().startswith("this module")


def the_map() -> str:
    """What DEVELOPERS.md must say between its marks: every package, and the top of each room."""
    rows = [
        f"| `{dotted(path)}` | {sign(path)} |"
        for room in ROOMS
        for path in modules(room)
        if len(path.relative_to(ROOT).parts) <= 2 or path.name == "__init__.py"
    ]
    return "\n".join(["| room | what is behind the door |", "| --- | --- |", *rows])


def test_the_map_is_made_of_the_signs() -> None:
    text = (ROOT / "DEVELOPERS.md").read_text()
    found = text.partition(MAP_BEGINS)[2].partition(MAP_ENDS)[0].strip()
    assert found == the_map(), f"the map should be:\n{the_map()}"


@pytest.mark.parametrize("path", modules(*ROOMS), ids=dotted)
def test_no_file_is_longer_than_it_should_be(path: Path) -> None:
    assert len(path.read_text().splitlines()) <= 300
