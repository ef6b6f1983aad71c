"""Where things are, for tests that read the project's own files."""

from pathlib import Path

ROOT = Path(__file__).parents[2]
ROOMS = ("core", "bot", "demo_script")


def modules(*rooms: str) -> list[Path]:
    """Every Python file of these rooms, in order."""
    return [path for room in rooms for path in sorted((ROOT / room).rglob("*.py"))]


def dotted(path: Path) -> str:
    """A module's name, such as `bot.chat.start`."""
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)
