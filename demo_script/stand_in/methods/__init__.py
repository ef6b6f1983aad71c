"""What can be asked of the API: one table of all methods the stand-in knows."""

from collections.abc import Mapping

from demo_script.stand_in.methods import (
    answering,
    chats,
    commands,
    editing,
    files,
    profile,
    sending,
)
from demo_script.stand_in.world import Method

PARTS: tuple[Mapping[str, Method], ...] = (
    sending.METHODS,
    editing.METHODS,
    answering.METHODS,
    commands.METHODS,
    chats.METHODS,
    files.METHODS,
    profile.METHODS,
)
# Names are compared in lower case, as the real server does. getUpdates isn't here: it alone waits.
METHODS: Mapping[str, Method] = {
    name.lower(): method for part in PARTS for name, method in part.items()
}
