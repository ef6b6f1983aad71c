"""The story of one class over some weeks, in which every reaction follows from what is seen."""

from demo_script.story.play import play
from demo_script.story.tale import Script, Tale

__all__ = ["Script", "Tale", "play"]
