"""The chat that the README shows took place in the demo."""

from pathlib import Path

from demo_script.story import Script
from demo_script.story.excerpt import true_excerpt

README = Path(__file__).parents[2] / "README.md"
BEGINS, ENDS = "<!-- excerpt -->\n", "<!-- end -->"


async def test_the_readme_shows_what_the_demo_says() -> None:
    """`python -m demo_script --excerpt`, indented by four spaces, stands between the markers."""
    shown = README.read_text(encoding="utf-8").partition(BEGINS)[2].partition(ENDS)[0]
    said = await true_excerpt(Script())
    assert shown.rstrip().splitlines() == [f"    {line}".rstrip() for line in said.splitlines()]
